// Every word that a person reads on the desk, but for those that come from the program. Another language is another file.

const many = (count, one, more = `${one}s`) => `${count} ${count === 1 ? one : more}`;

export const words = {
  language: "en",
  skip: "Skip to the page",

  // Places, named after her work.
  places: { order: "Order", paper: "Stock", bench: "Bench", plan: "Plan", cut: "Cut", shelf: "Shelf" },
  placesLabel: "Places",
  tables: { order: "The order", sheets: "Full sheets", offcuts: "Offcuts in the drawer", envelopes: "Envelopes", sundries: "Sundries" },
  abouts: {
    order: "One line for each kind of card.",
    sheets: "Your full sheets: how many you have, and what more would cost.",
    offcuts: "Strips you saved from earlier batches.",
    envelopes: "Envelopes you buy ready made.",
    sundries: "Ribbons, seals, foam pads and whatever else goes on or in a card.",
    workshop: "Your trimmer, spares, rates and post.",
  },
  workshop: "Your workshop",
  noOrder: "No order yet",
  orderLabel: "Order",
  newOrder: "New order",
  titleOf: (name) => name.replace(/\.csv$/, ""),
  pageTitle: (place, order) => `${place}: ${order} – Cardwright`,

  // Saving.
  saved: "Saved",
  saving: "Saving…",
  notSaved: (name, told) => `${name} is not saved. ${sentence(told)}`,
  held: (name) => `${name} is not saved: choose which version to keep.`,
  saveAgain: "Save again",
  undo: "Undo",
  redo: "Redo",
  undone: (name) => `Undone in ${name}`,
  redone: (name) => `Redone in ${name}`,
  tookDisk: (name) => `${name} has changed on disk. This page shows it as it is now.`,
  fileGone: (name) => `${name} is no longer in the folder.`,
  oddNames: (names) => `Not shown here: ${names.join(", ")}. To work on ${names.length === 1 ? "it" : "them"} on this page, use names of letters, numbers and spaces that end in .csv.`,
  news: "Messages",
  close: "Close",
  stopped: "Cardwright has stopped. Copy whatever is not saved from this page. Then start Cardwright again in the terminal, and open the new link.",
  trouble: (status) => (status === 0 ? "Cardwright does not answer. If it has stopped, start it again in the terminal, and open the new link."
    : status === 413 ? "Your files are too large for this page: together they may have 16 MB. Move part of the order to another file."
      : status === 503 ? "Cardwright is busy with other questions. Try again in a moment." : `Cardwright could not do that (status ${status}). Try again.`),
  conflict: {
    title: (name) => `${name} was changed in two places`,
    told: "It was changed here, and also on disk: in a spreadsheet, a terminal or another window. Both versions are below, with the lines that differ marked. Choose one to keep; the other is lost.",
    mine: "On this page", theirs: "On disk", gone: "The file was deleted.",
    keepMine: "Keep what is on this page", takeTheirs: "Keep what is on disk", differs: "differs", skipped: (count) => `… ${many(count, "more line")}`,
  },

  // Tables.
  cellLabel: (column, row) => `${column}, row ${row}`,
  choices: (column) => `Choices for ${column}`,
  newRow: "new row",
  needed: "must be filled in",
  addRow: "Insert row",
  removeRows: "Delete row",
  addColumn: "Add column",
  moreColumns: "More columns",
  tableKeys: "Keys for this table",
  tableKeysTold: [
    ["Arrow keys", "move from cell to cell; with Shift, they select"],
    ["Letters and numbers", "replace what is in the cell"],
    ["Enter or F2", "opens the cell to edit it; Escape leaves it unchanged"],
    ["Tab", "goes to the next cell; to leave the table, press Escape, then Tab"],
    ["Delete", "clears the selected cells; with Ctrl, deletes their rows"],
    ["Ctrl+C, Ctrl+X, Ctrl+V", "copy, cut and paste, to and from a spreadsheet too"],
    ["Ctrl+Z, Ctrl+Y", "undo and redo"],
    ["Shift+Space, Ctrl+A", "select the row, or the whole table"],
  ],
  unreadable: (name) => `${name} cannot be read`,
  unreadableTold: "Fix its text here.",
  wholeText: (name) => `Text of ${name}`,
  keepText: "Save this text",
  refused: (problems) => `Nothing was changed. ${problems.map((problem) => sentence(`${sentence(problem.title)} ${words.remedy(problem)}`.trim())).join(" ")}`,

  // Problems.
  severity: (severity) => ({ error: "Problem", warning: "Warning" }[severity] ?? severity),
  remedy: (problem) => [problem.place?.expected, ...problem.help].filter(Boolean).map(sentence).join(" "),
  problems: (errors, warnings) => [errors ? many(errors, "problem") : "", warnings ? many(warnings, "warning") : ""].filter(Boolean).join(" and "),
  problemsTitle: (errors) => (errors ? "What to fix" : "Worth checking"),
  where: ({ place, cell }, column) => (cell ? `${place.file}, ${cell.row < 0 ? "names of columns" : `row ${cell.row + 1}`}${column ? `, ${column}` : ""}` : `${place.file}, line ${place.line}`),

  // The plan.
  answerTitle: "The plan so far",
  planning: "Planning…",
  stillPlanning: "Here is a plan. Looking for a better one…",
  stop: "Stop looking",
  longer: "Look for a better plan",
  stoppedWith: "Stopped. This is the best plan found so far.",
  stoppedWithout: "Stopped before there was a plan.",
  again: "Plan again",
  cannot: "No plan yet",
  cannotTold: "Fix what is listed below, and Cardwright plans again.",
  buyTitle: "What to buy",
  buyNothing: "Nothing: everything is on your shelf.",
  buy: { what: "What", kind: "Kind", paper: "Paper", size: "Size", packs: "Packs", amount: "Amount", price: "Price of a pack", cost: "Cost" },
  spend: (spend) => `${spend} in all.`,
  linesTitle: "Cards and prices",
  lines: { line: "Line", picture: "Picture", contents: "Contents", cards: "Cards", each: "Price each", price: "Price in all" },
  layoutsTitle: "Layouts",
  layoutsTold: "Point at a piece, or reach its button with Tab, and it lights up wherever it is cut.",
  layout: (layout) => `${layout.name}: ${layout.sheet}`,
  layoutTold: (layout) => `${many(layout.sheets, "sheet")} of ${layout.paper}, ${layout.size}`,
  layoutBox: (layout) => `Drawing of ${layout.name}`,
  zoomIn: "Larger", zoomOut: "Smaller", zoomFit: "Fit", zoom: (percent) => `${percent} %`,
  zoomLabel: "Size of the drawings",
  zoomKeys: "In a drawing, + and - change the size, and 0 fits it again. Ctrl with the mouse wheel changes it too.",
  piecesTitle: "Pieces",
  pieces: { piece: "Piece", part: "Part", size: "Size", count: "To cut" },
  sureTitle: "How sure the plan is",
  claim: (claim, at) => (typeof claim === "string" ? claim
    : `${at === 0 ? "Money spent" : "Paper used"}: ${claim.value}. ${sentence(`${claim.status}${claim.reason ? ` (${claim.reason})` : ""}`)}`),
  pictureOf: (line) => `${line}`,
  times: (count) => `${count} ×`,

  // The bench.
  benchTitle: "The bench",
  plainName: (name) => name.replaceAll("_", " ").replaceAll(".", ", "),

  // A new order.
  start: {
    title: "A new order",
    told: "Make three choices to get a first plan. You can change everything later.",
    name: "1. Name of the order", nameNote: "Its file in your folder gets this name.",
    format: "2. Format", search: "Find a format", count: "3. How many", other: "Another number",
    own: "Or your own size", ownNote: "Width, then height, such as 4 1/4 x 5 1/2 or 105 mm x 148 mm.", noneFound: "No format has this name. Type your own size below.",
    make: (count) => `Plan ${many(count, "card")}`, begin: "Plan this many", cancel: "Cancel",
    taken: "There is already an order with this name. Choose another.", noName: "Give the order a name first.", noFormat: "Choose a format first.",
    counts: [10, 25, 50, 100], suggestion: (number) => (number === 1 ? "new cards" : `new cards ${number}`),
    added: (line) => `First line: ${line}`,
  },

  // Cutting.
  what: {
    title: "What if", about: "Try a change before you make it. Nothing is saved until you press “Make this change”.", line: "Line", sheet: "Sheet", card: "One more card", cards: "Ten more cards",
    oneSheet: "One more sheet on hand", answer: "What", both: "Now, and with the change", now: "Now", then: "With the change", same: "Nothing in the summary changes.", keep: "Make this change", leave: "Leave it as it is",
  },
  addKey: "Add to your bench", key: "What to add", value: "Value",
  phone: {
    beside: "On your phone", scan: "Scan this with a phone on the same network. The phone shows the steps, keeps your ticks and takes stock. It can do nothing else.",
    how: "To use a phone too, press Ctrl-C in the terminal, start the desk again with --phone, and open the new link. A phone on the same network can then show the steps and take stock.",
    title: "At the bench", steps: "Steps", count: "Stock-take", none: "No schedule is written yet. Write one at the desk, under Cut.",
    kept: "Your ticks are saved at the desk.", waiting: "The desk does not answer. Carry on: this phone keeps your ticks, and sends them when the desk is back.",
  },
  cut: {
    title: "Cut",
    care: "Blades hurt. Keep all fingers behind the guard, never in the blade's path. Lower and latch the blade after every cut. Let strips fall. Cutting is for adults, one at a time.",
    none: "There is no schedule for this order yet. Write one, and it is shown here step by step.",
    write: "Write the schedule", writeAgain: "Write the schedule again", rest: "Plan the rest",
    restTold: "Plans what is left of a batch that is partly cut. Stacks that wait are used first.",
    which: "Schedule", walk: "Step by step at the bench", files: "Files of this schedule",
    ticksTold: "Your ticks are saved in your folder.", ticksLost: "Your ticks could not be saved in your folder. This browser keeps them.",
    record: "Record what was cut", recordTold: "This brings your lists up to date. You need not type the command that the schedule shows. See what will change first: nothing is saved until you record it.",
    howFar: "How far did you get?", all: "Everything is cut", upTo: "Cut up to a step", step: "Last step done", lifts: "Lifts of that step (blank for all)",
    spoiled: "Spoiled", piece: "Piece, stack or sundry", count: "How many", hours: "Hours worked", stage: "Stage", hour: "Hours",
    addSpoiled: "Add what was spoiled", addHours: "Add hours", remove: "Remove",
    stages: ["cut", "score", "fold", "finish", "envelopes", "glue", "boxes", "pack"],
    look: "Show what will change", recordIt: "Record it", recorded: "Recorded.", changes: "Changes on your shelf", noChanges: "None.",
    undo: "Take back what was recorded last", undoTold: "Your lists go back to what they were before.", undoIt: "Take it back", undone: "Taken back: your lists are as they were before.",
    unsaved: "Not everything is saved. The top of the page says what to do; then try again.",
    removed: "removed", added: "added",
  },

  // The shelf.
  shelf: {
    title: "The shelf", papers: "Papers on the shelf", empty: "Nothing is on the shelf. List your sheets under Stock.", drawer: "Offcuts in the drawer", sheets: "Full sheets", supplies: "Envelopes and sundries",
    paper: "Paper", sheetsHead: "Sheets", offcutsHead: "Offcuts", worth: (currency) => `Worth, ${currency}`,
    find: "What do you want to make?", findNote: "Type a format, such as place card, or a paper. You see the offcuts and sheets that yield it.",
    found: (count, text) => (!text ? `${many(count, "kind")} of offcut and sheet` : count ? `${many(count, "kind")} of offcut and sheet for “${text}”`
      : `No offcut or sheet for “${text}”. Check the spelling, or type less of it.`),
    becomes: "Still yields one of these", becomesNothing: "none of the named formats", count: (count) => `${count} on hand`, since: (since, days) => `In the drawer since ${since}, ${many(days, "day")}`,
    aside: (count) => `${count} set aside`, asideFor: (batch) => `Paper is set aside for ${batch}.`, release: "Release this paper", released: "Released: any order may use it.",
    name: "Name", hand: "On hand", amount: (amount, unit) => `${amount}${unit ? ` ${unit}` : ""}`, metric: (width, height) => `${width} x ${height} mm`,
    history: "History", noHistory: "Nothing is recorded yet.", edited: "Changed by hand since the last entry",
    sound: "Checked: each entry follows from the one before.", unsound: "The history does not add up: an entry was changed or is missing.", entry: (number) => `Entry ${number}`,
  },
  count: {
    title: "Stock-take", told: "Go through the drawer, one label at a time. See what will change first: nothing is saved until you record it.", open: "Count the drawer", close: "Stop counting",
    as: (count) => `${count} on the list`, there: "All there", other: "Another count", missing: "Not found", away: "Thrown away", howMany: (name) => `How many of ${name}`,
    added: "Offcuts without a label", add: "Add an offcut", incomplete: "Give this offcut a paper, a width and a height, or remove it.", nothing: "Say of at least one label how many you found, or add an offcut.", paper: "Paper", width: "Width", height: "Height", number: "How many", remove: "Remove",
    look: "Show what will change", keep: "Record this count", kept: "The count is recorded.", done: (done, all) => (all ? `${done} of ${many(all, "label")} checked` : "No offcut is on the list."),
  },

  // The page with the program in it.
  alone: {
    label: "Your files",
    inBrowser: "Your files are in this browser only.", inFolder: (name) => `Your files are in the folder “${name}”.`,
    onDisk: "Every change is saved there.",
    neverSaved: "Never saved as a file.",
    saved: (date, isOlder) => `Last saved as a file: ${date.toLocaleString("en", { dateStyle: "medium", timeStyle: "short" })}.${isOlder ? " You have changed something since." : ""}`,
    save: "Save as a file", savedNow: "Saved as a file.", fileName: (day) => `workshop ${day}.zip`,
    open: "Open a saved file", openFolder: "Open a folder", leave: "Leave this folder",
    replace: "Your changes since the last save are lost when another workshop is opened. Open it all the same?",
    noFile: { other: "This file is not a saved workshop. Choose a .zip file that was saved here.", large: "This file is too large to be a workshop.", broken: "This file is damaged. Choose another one." },
    failed: (told) => `That did not work: ${sentence(told)}`,
    welcome: "Where would you like to begin?",
    welcomeTold: "Cardwright works in this page, without a network. What you type stays on this machine.",
    startInches: "A small workshop to change, in inches", startMetric: "A small workshop to change, in millimetres", startEmpty: "An empty workshop",
    openAgain: (name) => `Open the folder “${name}” again`, goOn: "Go on with the copy in this browser",
    meanwhile: (path) => `${path} was changed in the folder at the same moment. Nothing was written. Try again.`,
    fault: (told) => `Cardwright stopped in the middle, and nothing was changed. ${sentence(told || "It gave no reason")}`,
    instead: {
      stopped: "The program in this page does not answer. Save your workshop as a file, then load the page again.",
      tookDisk: (name) => `${name} has changed outside this window. This page shows it as it is now.`,
      fileGone: (name) => `${name} is no longer in the workshop.`,
      start: { nameNote: "Its file gets this name." },
      cut: { ticksTold: "Your ticks are saved.", ticksLost: "Your ticks could not be saved with your files. The browser keeps them." },
    },
  },
};

function sentence(text) {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.?!]$/.test(whole) ? whole : `${whole}.`;
}
