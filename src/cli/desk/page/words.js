// Every word that a person reads on the desk, but for those that come from the program. Another language is another file.

const many = (count, one, more = `${one}s`) => `${count} ${count === 1 ? one : more}`;

export const words = {
  language: "en",
  skip: "Go to the page",

  // Places, named after her work.
  places: { order: "Order", paper: "Paper", bench: "Bench", plan: "Plan", cut: "Cut", shelf: "Shelf" },
  placesLabel: "Places",
  tables: { order: "The order", sheets: "Full sheets", offcuts: "The drawer", envelopes: "Envelopes", sundries: "Sundries" },
  abouts: {
    order: "One line for each kind of card.",
    sheets: "Your full sheets: how many you have, and what more would cost.",
    offcuts: "Strips that you saved from earlier batches.",
    envelopes: "Envelopes that you buy.",
    sundries: "Ribbons, seals, foam pads and whatever else goes on a card.",
    workshop: "Your trimmer, spares, rates and post.",
  },
  noOrder: "No order yet",
  orderLabel: "Order",
  newOrder: "New order",
  titleOf: (name) => name.replace(/\.csv$/, ""),
  pageTitle: (place, order) => `${place}: ${order} – Cardwright`,

  // Saving.
  saved: "Saved",
  saving: "Saving…",
  notSaved: (name, told) => `${name} is not saved. ${told}`,
  held: (name) => `${name} waits for your choice.`,
  saveAgain: "Save again",
  undo: "Undo",
  redo: "Redo",
  undone: (name) => `Undone in ${name}`,
  redone: (name) => `Done again in ${name}`,
  tookDisk: (name) => `${name} was changed outside this page. You see it as it is on disk now.`,
  fileGone: (name) => `${name} was deleted from the folder.`,
  news: "News",
  close: "Close",
  stopped: "Cardwright has ended. Start it again in the terminal; what you typed stays on this page until then.",
  trouble: (status) => (status === 0 ? "Cardwright does not answer. Start it again in the terminal."
    : `Cardwright could not do that (status ${status}).`),
  conflict: {
    title: (name) => `${name} was changed in two places`,
    told: "It was changed on disk after this page read it: in a spreadsheet, a terminal or another window. Nothing is lost yet. Choose which one to keep. Lines that differ are marked.",
    mine: "Mine, on this page", theirs: "Theirs, on disk", gone: "The file is not there any more.",
    keepMine: "Keep mine", takeTheirs: "Take theirs", differs: "differs",
  },

  // Tables.
  cellLabel: (column, row) => `${column}, line ${row}`,
  choices: (column) => `Choices for ${column}`,
  newRow: "new line",
  needed: "must be filled in",
  addRow: "Insert a line",
  removeRows: "Delete line",
  addColumn: "Add column",
  moreColumns: "More columns",
  tableKeys: "How to use the keyboard here",
  tableKeysTold: [
    ["Arrow keys", "move from cell to cell; with Shift, they select"],
    ["Type", "replaces what the cell holds"],
    ["Enter or F2", "opens the cell; Escape leaves it as it was"],
    ["Tab", "goes to the next cell; press Escape first to leave the table with Tab"],
    ["Delete", "clears what is selected; with Ctrl, deletes the lines"],
    ["Ctrl+C, Ctrl+X, Ctrl+V", "copy, cut and paste, also from a spreadsheet and into one"],
    ["Ctrl+Z, Ctrl+Y", "undo and redo"],
    ["Shift+Space, Ctrl+A", "select the line, or everything"],
  ],
  unreadable: (name) => `${name} cannot be read as a table`,
  unreadableTold: "Mend its text here.",
  wholeText: (name) => `The text of ${name}`,
  keepText: "Keep this text",

  // Problems.
  severity: (severity) => ({ error: "Mistake", warning: "Note" }[severity] ?? severity),
  remedy: (problem) => [problem.place?.expected, ...problem.help].filter(Boolean).map(sentence).join(" "),
  problems: (errors, warnings) => [errors ? many(errors, "mistake") : "", warnings ? many(warnings, "note") : ""].filter(Boolean).join(" and "),
  problemsTitle: (errors) => (errors ? "What to mend" : "Good to know"),
  where: (place) => `${place.file}, line ${place.line}`,

  // The plan.
  answerTitle: "The plan so far",
  planning: "Planning…",
  stillPlanning: "A plan. Looking for a better one…",
  stop: "Stop",
  longer: "Try longer",
  stoppedWith: "Stopped. This is the best plan found so far.",
  stoppedWithout: "Stopped before there was a plan. Change something, or try longer.",
  cannot: "No plan yet",
  cannotTold: "Mend the mistakes, and the plan comes by itself.",
  buyTitle: "What to buy",
  buyNothing: "Nothing: all of it is on your shelf.",
  buy: { what: "What", kind: "Kind", paper: "Paper", size: "Size", packs: "Packs", amount: "Amount", price: "A pack", cost: "Cost" },
  spend: (spend) => `In all ${spend}.`,
  linesTitle: "Cards and prices",
  lines: { line: "Line", picture: "Picture", contents: "What is in it", cards: "Cards", each: "Each", price: "Price" },
  layoutsTitle: "Layouts",
  layoutsTold: "Point at a piece, or go to its button: it lights up wherever it is cut.",
  layout: (layout) => `${layout.name}: ${layout.sheet}`,
  layoutTold: (layout) => `${many(layout.sheets, "sheet")} of ${layout.paper}, ${layout.size}`,
  layoutBox: (layout) => `Drawing of ${layout.name}`,
  zoomIn: "Larger", zoomOut: "Smaller", zoomFit: "Fit", zoom: (percent) => `${percent} %`,
  zoomLabel: "Size of the drawings",
  zoomKeys: "In a drawing, the keys + and - change its size, 0 fits it; so does the wheel with Ctrl.",
  piecesTitle: "Pieces",
  pieces: { piece: "Piece", part: "Part", size: "Size", count: "Pieces to cut" },
  sureTitle: "How sure it is",
  claim: (claim, at) => (typeof claim === "string" ? claim
    : `${at === 0 ? "Money spent" : "Paper used"}: ${claim.value}, ${claim.status}${claim.reason ? ` (${claim.reason})` : ""}.`),
  pictureOf: (line) => `${line}`,
  times: (count) => `${count} ×`,

  // The bench.
  benchTitle: "The bench",
  plainName: (name) => name.replaceAll("_", " ").replaceAll(".", ", "),

  // A new order.
  start: {
    title: "A new order",
    told: "Three choices, and there is a first plan. All of it can be changed later.",
    name: "1. Name of the order", nameNote: "It becomes a file in your folder.",
    format: "2. Format", search: "Find a format", count: "3. How many", other: "Another number", paper: "Paper",
    make: (count) => `Make ${count}`, begin: "Begin", cancel: "Cancel",
    taken: "There is an order of that name already. Choose another.", noName: "Give it a name first.", noFormat: "Choose a format first.",
    counts: [10, 25, 50, 100], suggestion: (number) => (number === 1 ? "new cards" : `new cards ${number}`),
    added: (line) => `First line: ${line}`,
  },

  // Cutting.
  what: {
    title: "What if", about: "Try it first: nothing is written until you say so.", line: "Line", sheet: "Sheet", card: "One more card", cards: "Ten more cards",
    oneSheet: "One more sheet on hand", answer: "Answer", both: "Now and then", now: "Now", then: "Then", same: "Nothing changes in the short answer.", keep: "Write it down", leave: "Leave it",
  },
  addKey: "Add a setting", key: "Setting", value: "Value",
  phone: {
    beside: "On your phone", scan: "Scan this with a phone in the same network. It shows the steps, keeps your ticks, and takes stock; it can do nothing else.",
    how: "Start the desk with --phone, and a phone in the same network can show the steps and take stock.",
    title: "At the bench", steps: "Steps", count: "Stock-take", none: "No schedule is written yet. Write one at the desk, under Cut.",
    kept: "Ticks are kept at the desk.", waiting: "The desk cannot be reached. Go on: your ticks are kept here, and sent when it is back.",
  },
  cut: {
    title: "Cut",
    care: "Blades hurt. Fingers behind the guard, never in the blade's path. Latch the blade after every cut. Cutting is for adults, one at a time.",
    none: "There is no schedule of this order yet.",
    write: "Write the schedule", writeAgain: "Write it again", rest: "Plan the rest",
    restTold: "What is left of a batch that is under way, with the stacks that wait.",
    which: "Schedule", walk: "Step by step at the bench", files: "The files of this schedule",
    ticksTold: "Ticks are kept in your folder.", ticksLost: "The ticks could not be kept on disk. They stay in this browser.",
    record: "Record what is cut", recordTold: "It brings your sheets and your drawer up to date. Look first; nothing changes until you record it.",
    howFar: "How far did you come?", all: "All of it is cut", upTo: "Up to a step", step: "Last step done", lifts: "Lifts of it (blank: all)",
    spoiled: "Spoiled", piece: "Piece or stack", count: "How many", hours: "Hours worked", stage: "Stage", hour: "Hours",
    addSpoiled: "Add what was spoiled", addHours: "Add hours", remove: "Remove",
    stages: ["cut", "score", "fold", "finish", "envelopes", "glue", "boxes", "pack"],
    look: "Look at what changes", recordIt: "Record it", recorded: "Recorded.", changes: "What changes on your shelf", noChanges: "No line changes.",
    undo: "Take back the last record", undoTold: "Your lists become what they were before it.", undoIt: "Take it back", undone: "Taken back.",
    unsaved: "Something is not saved yet. Save it first.",
    removed: "goes", added: "comes",
  },

  // The shelf.
  shelf: {
    title: "The shelf", papers: "Paper by paper", empty: "Nothing is on the shelf.", drawer: "Strips in the drawer", sheets: "Full sheets", supplies: "Envelopes and sundries",
    paper: "Paper", sheetsHead: "Sheets", offcutsHead: "Strips", worth: (currency) => `Worth, ${currency}`,
    find: "What do you want to make?", findNote: "A format such as place card, or a paper. You see the strips that can become it.",
    found: (count, text) => (text ? `${many(count, "kind")} of strip or sheet for “${text}”` : `${many(count, "kind")} of strip and sheet`),
    becomes: "Still becomes", becomesNothing: "no named format", count: (count) => `${count} there`, since: (since, days) => `since ${since}, ${many(days, "day")}`,
    aside: (count) => `${count} set aside`, asideFor: (batch) => `Paper is set aside for ${batch}.`, release: "Put it back on the shelf", released: "It is back on the shelf.",
    name: "Name", size: "Size", hand: "On hand", amount: (amount, unit) => `${amount}${unit ? ` ${unit}` : ""}`, metric: (width, height) => `${width} x ${height} mm`,
    history: "What happened", noHistory: "Nothing was recorded yet.", edited: "Changed by hand since the last entry",
    sound: "Each entry follows from the one before.", unsound: "The record does not fit together: an entry was changed or is missing.", entry: (number) => `Entry ${number}`,
  },
  count: {
    title: "Count the drawer", told: "Go through the drawer label by label. Look first; nothing changes until you keep it.", open: "Count the drawer", close: "Stop counting",
    as: (count) => `${count} by the list`, there: "All there", other: "Another count", missing: "Not found", away: "Throw away", howMany: (name) => `How many of ${name}`,
    add: "Add a strip", paper: "Paper", width: "Width", height: "Height", number: "How many", remove: "Remove",
    look: "Look at what changes", keep: "Keep this count", kept: "The count is kept.", done: (done, all) => `${done} of ${many(all, "label")} looked at`,
  },
};

function sentence(text) {
  const whole = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.?!]$/.test(whole) ? whole : `${whole}.`;
}
