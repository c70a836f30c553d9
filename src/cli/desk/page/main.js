// The desk: its places, and the way from one to another.

import { Answer } from "./answer.js";
import { Bench, isBench } from "./bench.js";
import { watchConflicts } from "./conflict.js";
import * as carrier from "./carrier.js";
import { Cutting } from "./cutting.js";
import { button, byId, field, make } from "./dom.js";
import { news, showKeeping, watchDisk } from "./keeping.js";
import { plan, planSoon } from "./plan.js";
import { problemsOf } from "./problems.js";
import { Sheet } from "./sheet.js";
import { Shelf } from "./shelf.js";
import { Start } from "./start.js";
import { choose, desk, lists, open, tellOddNames } from "./state.js";
import { Sum } from "./sum.js";
import { WhatIf } from "./what.js";
import { words } from "./words.js";

const names = Object.keys(words.places);
const beside = ["order", "paper", "bench"];
const places = {}, sheets = {}, links = {};
let bench, cutting, shelf, start, answer, here = null;

async function begin() {
  document.documentElement.lang = words.language;
  byId("title").replaceChildren(words.workshop);
  byId("skip").append(words.skip);
  byId("skip").addEventListener("click", (event) => { event.preventDefault(); byId("main").focus(); });
  try { await carrier.begin(); await open(); } catch (trouble) { byId("main").append(make("p", { class: "error" }, trouble.message)); return; }
  build();
  desk.hear("text", planSoon);
  desk.hear("plan", markProblems);
  desk.hear("orders", showOrders);
  addEventListener("hashchange", route);
  watchConflicts();
  route();
  if (!desk.order) { showOrders(); plan.isOld = false; }
  tellOddNames();
  watchDisk();
}

function build() {
  for (const kind of ["order", ...lists]) { sheets[kind] = new Sheet(kind, (row) => { if (kind === "order" && row) { answer.look(row[0]); } }); }
  bench = new Bench(); cutting = new Cutting(); shelf = new Shelf();
  start = new Start(() => showStart(false));
  answer = new Answer(byId("answer"), { go, pictures: true, level: "h2", planLink: () => address("plan") });
  byId("answer").setAttribute("aria-label", words.answerTitle);
  const whole = make("div", { class: "whole" });
  new Answer(whole, { go, pictures: false, level: "h2" });
  place("order", start.element, sheets.order.element);
  place("paper", ...lists.map((kind) => sheets[kind].element));
  place("bench", bench.element);
  place("plan", whole, new WhatIf().element, new Sum().element);
  place("cut", cutting.element);
  place("shelf", shelf.element);
  buildWays();
  byId("notices").setAttribute("aria-label", words.news);
  showKeeping();
}

function place(name, ...children) {
  places[name] = make("div", { class: `place ${name}`, hidden: true }, ...children);
  byId("main").append(places[name]);
}

function buildWays() {
  byId("places").setAttribute("aria-label", words.placesLabel);
  byId("places").append(make("ul", {}, names.map((name) => make("li", {}, links[name] = make("a", {}, words.places[name])))));
  const which = make("select", { id: "which", onchange: () => { closeStart(); location.hash = address(here, which.value); } });
  byId("orders").append(field(words.orderLabel, which), button(words.newOrder, () => { location.hash = address("order"); showStart(true); }));
}

function address(name, order = desk.order?.name ?? "") { return `#${name}/${encodeURIComponent(order)}`; }

function route() {
  const [name, order] = location.hash.slice(1).split("/");
  const next = names.includes(name) ? name : "order";
  choose(order ? decodeURIComponent(order) : desk.order?.name);
  visit(next);
}

function visit(name) {
  const isMoving = here !== null && here !== name;
  here = name;
  for (const each of names) {
    places[each].hidden = each !== name;
    if (each === name) { links[each].setAttribute("aria-current", "page"); } else { links[each].removeAttribute("aria-current"); }
  }
  byId("answer").hidden = !beside.includes(name);
  byId("spread").classList.toggle("wide", !beside.includes(name));
  showTitle();
  ({ order: () => sheets.order.refresh(), paper: () => lists.forEach((kind) => sheets[kind].refresh()), bench: () => bench.refresh(),
    cut: () => cutting.refresh(), shelf: () => shelf.refresh() })[name]?.();
  if (isMoving) { byId("main").focus({ preventScroll: true }); scrollTo(0, 0); }
}

function showTitle() {
  const order = desk.order ? words.titleOf(desk.order.name) : words.noOrder;
  byId("title").replaceChildren(order);
  document.title = words.pageTitle(words.places[here] ?? "", order);
}

// Where she is going counts, even where it is not shown yet.
function keepAddress() {
  const [asked] = location.hash.slice(1).split("/"), place = names.includes(asked) ? asked : here ?? "order";
  if (location.hash !== address(place)) { history.replaceState(null, "", address(place)); }
}

function showOrders() {
  const which = byId("which");
  which.replaceChildren(...desk.orders.map((order) => make("option", { value: order.name }, words.titleOf(order.name))));
  which.value = desk.order?.name ?? "";
  for (const name of names) { links[name].href = address(name); }
  showTitle();
  if (!desk.order) { if (start.element.hidden) { showStart(true); } }
  else { keepAddress(); }
}

function closeStart() {
  sheets.order.element.hidden = !desk.order;
  start.element.hidden = true;
}

function showStart(isOpen) {
  closeStart();
  if (isOpen) { sheets.order.element.hidden = true; }
  if (isOpen) { start.open().catch((trouble) => news(trouble.message)); } else if (desk.order) { sheets.order.grid.focus(); }
}

function markProblems() {
  for (const [kind, sheet] of Object.entries(sheets)) { sheet.grid.mark(problemsOf(plan.problems, kind)); }
}

/** Leads to what a problem is about. */
async function go(problem) {
  if (problem.cell) {
    const { kind, row, column } = problem.cell;
    visitNow(kind === "order" ? "order" : "paper");
    await sheets[kind].refresh();
    sheets[kind].grid.go(row, column);
  } else if (isBench(problem)) { visitNow("bench"); await bench.refresh(); bench.go(problem); }
  else if (problem.code.startsWith("shelf-")) { visitNow("shelf"); }
  else { const kind = Object.keys(sheets).find((each) => desk.file(each)?.name === problem.place?.file); if (kind) { visitNow(kind === "order" ? "order" : "paper"); await sheets[kind].refresh(); sheets[kind].focus(problem); } }
}

// The address follows without asking for the place again.
function visitNow(name) {
  if (here === name) { return; }
  history.pushState(null, "", address(name));
  visit(name);
}

begin();
