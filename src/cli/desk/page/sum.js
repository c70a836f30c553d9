// The whole plan on a page: what to buy, what the cards cost, the layouts, the pieces, how sure it is.

import { byId, make, table } from "./dom.js";
import { layoutsOf, lightUp, pieceButton } from "./layouts.js";
import { picture } from "./picture.js";
import { plan } from "./plan.js";
import { desk } from "./state.js";
import { words } from "./words.js";

export class Sum {
  constructor() {
    this.shown = null;
    this.element = make("div", { class: "sum" });
    lightUp(this.element);
    desk.hear("plan", () => this.show());
  }

  show() {
    this.element.classList.toggle("old", plan.isOld);
    if (plan.made === this.shown) { return; }
    this.shown = plan.made;
    const { activeElement } = document, wasIn = this.element.contains(activeElement);
    this.element.replaceChildren(...(plan.made ? parts(plan.made) : []));
    if (wasIn) { this.refocus(activeElement); }
  }

  // A better plan must not throw her out of the place where she is.
  refocus(last) {
    const like = last.dataset.piece ? `button[data-piece="${CSS.escape(last.dataset.piece)}"]` : ".drawing";
    this.element.querySelector(last.closest("td, th") ? `th > ${like}` : `.layout ${like}`)?.focus({ preventScroll: true });
  }
}

function parts(made) {
  byId("definitions").replaceChildren(...new DOMParser().parseFromString(made.definitions ?? "", "text/html").body.childNodes);
  return [part(words.buyTitle, ...buy(made)), part(words.layoutsTitle, make("p", { class: "about" }, words.layoutsTold), layoutsOf(made)),
    part(words.piecesTitle, pieces(made)), part(words.linesTitle, lines(made)), part(words.sureTitle, ...sure(made))];
}

function part(title, ...children) { return make("section", {}, make("h2", {}, title), ...children); }

const text = (name) => ({ name }), number = (name) => ({ name, number: true });

function buy(made) {
  const head = words.buy;
  if (!made.buy.length) { return [make("p", {}, words.buyNothing)]; }
  const columns = [text(head.what), text(head.kind), text(head.paper), text(head.size), number(head.packs), number(head.amount), number(head.price), number(head.cost)];
  const rows = made.buy.map((item) => [item.name, item.kind, item.paper, item.size, item.packs, item.amount, item.price, item.cost].map((cell) => String(cell ?? "")));
  return [table(words.buyTitle, columns, rows), make("p", { class: "total" }, words.spend(made.spend))];
}

function pieces(made) {
  const head = words.pieces;
  const box = table(words.piecesTitle, [text(head.piece), text(head.part), text(head.size), number(head.count)],
    made.pieces.map((piece) => [pieceButton(piece.piece, piece.piece), piece.part, piece.size, String(piece.count)]));
  box.querySelectorAll("tbody tr").forEach((row, at) => { row.dataset.piece = made.pieces[at].piece; });
  return box;
}

function lines(made) {
  const head = words.lines;
  return table(words.linesTitle, [text(head.line), text(head.picture), text(head.contents), number(head.cards), number(head.each), number(head.price)],
    made.lines.map((line) => [line.line, make("div", { class: "line-picture" }, picture(line.picture, true)),
      make("ul", { class: "contents" }, line.contents.map((item) => make("li", {}, item))), String(line.cards), line.each, line.price]));
}

function sure(made) {
  return made.sure.map((group) => make("div", { class: "sure" }, make("h3", {}, group.papers), make("ul", {}, group.claims.map((claim, at) => make("li", {}, words.claim(claim, at))))));
}
