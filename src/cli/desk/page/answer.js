// The short answer: what the plan says, word by word, and what stands in its way.

import { button, make } from "./dom.js";
import { picture } from "./picture.js";
import { isProven, plan, planLonger, planSoon, stopPlanning } from "./plan.js";
import { problemList } from "./problems.js";
import { desk } from "./state.js";
import { words } from "./words.js";

/** Shows the answer in a box, and shows it again whenever it changes. */
export class Answer {
  /** @param {{go: function(Object), pictures: boolean, level: string}} how */
  constructor(box, how) {
    this.how = how; this.line = null; this.shown = null; this.wrong = null;
    this.verdict = make(how.level, { class: "verdict", tabindex: "-1" });
    this.state = make("div", { class: "working" });
    this.rows = make("div"); this.problems = make("div"); this.pictures = make("div", { class: "glance" });
    box.append(this.verdict, this.state, this.rows, this.problems, this.pictures);
    desk.hear("plan", () => this.show());
    this.show();
  }

  show() {
    const { made } = plan;
    this.verdict.replaceChildren(made ? made.verdict : desk.order ? this.without() : words.noOrder);
    this.rows.classList.toggle("old", plan.isOld && Boolean(made));
    this.pictures.classList.toggle("old", plan.isOld && Boolean(made));
    this.showState();
    if (plan.problems !== this.wrong) { this.problems.replaceChildren(problemList(plan.problems, this.how.go) ?? ""); this.wrong = plan.problems; }
    if (made !== this.shown) { this.rows.replaceChildren(made ? rowsOf(made) : ""); this.shown = made; this.showPictures(); }
  }

  without() { return plan.isWorking || plan.isOld ? words.planning : words.cannot; }

  // Only what differs is drawn again, so that a button keeps its focus.
  showState() {
    const told = plan.isWorking ? plan.told : plan.isStopped ? (plan.made && !plan.isOld ? words.stoppedWith : words.stoppedWithout)
      : !plan.made && plan.problems.length ? words.cannotTold : "";
    const press = plan.isWorking ? "stop" : plan.made && !plan.isOld && !isProven(plan.made) ? "longer" : plan.isStopped ? "again" : "";
    const key = `${told}|${press}`;
    if (this.state.dataset.key === key) { return; }
    this.state.dataset.key = key;
    this.state.classList.toggle("busy", plan.isWorking);
    this.state.replaceChildren(told ? make("p", {}, told) : "", press === "stop" ? button(words.stop, stopPlanning)
      : press === "longer" ? button(words.longer, planLonger) : press === "again" ? button(words.again, planSoon) : "");
  }

  /** Shows the picture of the line on which she works, and lights its pieces. */
  look(line) { if (line !== this.line) { this.line = line; this.showPictures(); } }

  showPictures() {
    if (!this.how.pictures) { return; }
    const made = plan.made, line = made?.lines.find((each) => each.line === this.line) ?? made?.lines[0];
    if (!line) { this.pictures.replaceChildren(); return; }
    const own = new Set(made.pieces.filter((piece) => piece.line === line.line).map((piece) => piece.piece));
    this.pictures.replaceChildren(make("figure", { class: "line-picture" }, picture(line.picture, true), make("figcaption", {}, words.pictureOf(line.line))),
      make("a", { class: "thumbs", href: this.how.planLink() }, make("span", { class: "unseen" }, words.layoutsTitle), made.layouts.map((layout) => thumb(layout, own))));
  }
}

function rowsOf(made) {
  return make("dl", { class: "rows" }, made.rows.map((row) => make("div", {}, make("dt", {}, row.word), make("dd", {}, row.told))));
}

function thumb(layout, own) {
  const svg = picture(layout.picture, true);
  for (const piece of svg.querySelectorAll("[data-piece]")) { piece.classList.toggle("lit", own.has(piece.dataset.piece)); }
  // All at one scale, so that a strip looks like a strip.
  svg.style.width = `${(parseFloat(svg.getAttribute("width")) || 80) * 0.4}mm`;
  return svg;
}
