// The bench as a form: what workshop.toml says, section by section, with its notes.

import { ask } from "./ask.js";
import { button, field, freshId, make } from "./dom.js";
import { plan } from "./plan.js";
import { desk, write } from "./state.js";
import { words } from "./words.js";

export class Bench {
  constructor() {
    this.fields = new Map(); this.queue = Promise.resolve();
    const title = make("h2", { id: freshId("title") }, words.benchTitle);
    this.box = make("div", { class: "bench" });
    this.element = make("section", { "aria-labelledby": title.id }, title, make("p", { class: "about" }, words.abouts.workshop), this.box);
    desk.hear("text", (what) => { if (what.kind === "workshop" && !what.isOwn) { this.refresh(); } });
    desk.hear("plan", () => this.mark());
  }

  refresh() { return this.change([]); }

  change(changes) {
    const file = desk.files.workshop;
    file.asked += 1;
    this.queue = this.queue.then(() => this.run(changes)).catch((trouble) => desk.tell("news", { told: trouble.message })).finally(() => { file.asked -= 1; });
    return this.queue;
  }

  async run(changes) {
    const unread = desk.files.workshop.problems;
    if (unread.length) { this.fields.clear(); this.box.replaceChildren(...this.told(unread)); return; }
    const answer = await ask({ ask: "bench", desk: desk.question(), changes });
    if (answer.is !== "bench") { this.mend(answer.problems); return; }
    if (answer.refused?.length) { desk.tell("news", { told: words.refused(answer.refused) }); } else if (changes.length) { write("workshop", answer.text); }
    this.show(answer);
  }

  // The form is drawn again only where its keys are others, so that nobody loses her place.
  show({ sections, missing }) {
    const keys = sections.flatMap((section) => section.keys);
    const isSame = keys.length === this.fields.size && keys.every(({ key }) => this.fields.has(key));
    if (!isSame) { this.fields.clear(); this.box.replaceChildren(...sections.map((section) => this.section(section)), this.adding(missing)); }
    for (const key of keys) { this.fill(key); }
    this.mark();
  }

  section(section) {
    return make("fieldset", { class: "section" }, make("legend", {}, words.plainName(section.name) || words.benchTitle),
      section.note ? make("p", { class: "about" }, section.note) : null, section.keys.map((key) => this.field(key)));
  }

  field(key) {
    const input = make("input", { type: "text", id: freshId("key"), autocomplete: "off", spellcheck: "false",
      onchange: () => this.set(key.key, input), onkeydown: (event) => { if (event.key === "Escape") { this.fill(this.fields.get(key.key).key); } } });
    const told = make("p", { class: "note", id: `${input.id}-note` }, key.note || key.hint || "");
    const wrong = make("div", { class: "field-problems", id: `${input.id}-wrong` });
    input.setAttribute("aria-describedby", `${wrong.id} ${told.id}`);
    this.fields.set(key.key, { input, wrong, key });
    return make("div", { class: "key" }, make("label", { for: input.id }, words.plainName(key.label)), input, make("div", { class: "beside" }, wrong, told));
  }

  /** Offers the keys that the file does not have. */
  adding(missing) {
    const which = make("select", {}, missing.map(({ key }) => make("option", { value: key }, words.plainName(key))));
    const value = make("input", { type: "text", autocomplete: "off", spellcheck: "false" }), told = make("p", { class: "about" });
    const tell = () => told.replaceChildren(missing.find(({ key }) => key === which.value)?.hint ?? "");
    const add = () => { if (value.value.trim()) { this.change([{ key: which.value, text: written(value.value.trim(), "") }]); } };
    which.addEventListener("change", tell);
    tell();
    return make("fieldset", { class: "section" }, make("legend", {}, words.addKey), field(words.key, which), told, field(words.value, value),
      make("div", { class: "tools" }, button(words.addKey, add)));
  }

  fill(key) {
    const known = this.fields.get(key.key);
    known.key = key;
    known.input.value = plainly(key.text);
  }

  set(name, input) {
    const { key } = this.fields.get(name), typed = input.value.trim();
    // Left blank, the key goes, and its usual value counts.
    if (!typed) { this.change([{ key: name, text: "" }]); return; }
    const text = written(typed, key.text);
    if (text !== key.text) { this.change([{ key: name, text }]); }
  }

  mark() {
    const text = desk.files.workshop?.text ?? "";
    for (const [key, { input, wrong }] of this.fields) {
      const found = plan.problems.filter((problem) => isBench(problem) && keyAt(text, problem.place.line) === key);
      input.toggleAttribute("aria-invalid", found.length > 0);
      if (found.length) { input.setAttribute("aria-invalid", "true"); }
      wrong.replaceChildren(...found.map((problem) => make("p", { class: problem.severity },
        make("strong", {}, `${words.severity(problem.severity)}: ${problem.title}. `), words.remedy(problem))));
    }
  }

  /** Moves the focus to the field of a problem. */
  go(problem) {
    const key = keyAt(desk.files.workshop?.text ?? "", problem.place.line);
    (this.fields.get(key)?.input ?? this.box.querySelector("input, textarea"))?.focus();
  }

  told(problems) {
    return [make("h3", {}, words.unreadable(desk.files.workshop.name)),
      ...problems.map((problem) => make("p", { class: problem.severity }, `${problem.title}. ${words.remedy(problem)}`))];
  }

  mend(problems) {
    const file = desk.files.workshop, text = make("textarea", { rows: "24", spellcheck: "false", "aria-label": words.wholeText(file.name) });
    text.value = file.text ?? "";
    this.fields.clear();
    this.box.replaceChildren(...this.told(problems), make("p", {}, words.unreadableTold), text, button(words.keepText, () => { write("workshop", text.value); this.refresh(); }));
  }
}

export function isBench(problem) { return !problem.cell && problem.place?.file === desk.files.workshop?.name; }

/** A quoted text without its quotes. */
function plainly(text) {
  if (!/^".*"$/.test(text)) { return text; }
  try { return JSON.parse(text); } catch { return text; }
}

// Numbers, yes and no, and lists stand as they are; anything else is a text, and so is what was one before.
function written(text, before) {
  if (text === "" || /^["'[{]/.test(text)) { return text; }
  const isPlain = /^(true|false|-?\d+(\.\d+)?)$/.test(text);
  return isPlain && !/^["']/.test(before) ? text : JSON.stringify(text);
}

/** The key that stands on a line of the file, with its section. */
function keyAt(text, line) {
  const lines = text.split("\n"), own = /^\s*([\w-]+)\s*=/.exec(lines[line - 1] ?? "");
  const heads = lines.slice(0, line - 1).map((each) => /^\s*\[([^\]]+)\]/.exec(each)).filter(Boolean);
  const head = heads.at(-1)?.[1];
  return own ? (head ? `${head}.${own[1]}` : own[1]) : null;
}
