// What is wrong: in a list whose items lead to the cell.

import { make } from "./dom.js";
import { words } from "./words.js";

/** A list of problems; `go` is called with the one that is chosen. */
export function problemList(problems, go) {
  const errors = problems.filter((problem) => problem.severity === "error").length;
  if (!problems.length) { return null; }
  return make("div", { class: "problems" }, make("h3", {}, words.problemsTitle(errors)),
    make("p", { class: "tally" }, words.problems(errors, problems.length - errors)),
    make("ul", {}, problems.map((problem) => make("li", { class: problem.severity }, item(problem, go)))));
}

function item(problem, go) {
  const told = [make("strong", {}, `${words.severity(problem.severity)}: ${problem.title}`),
    make("span", {}, words.remedy(problem)), problem.place ? make("small", {}, words.where(problem, columnOf(problem))) : null];
  const leads = problem.cell || problem.place;
  return leads ? make("button", { type: "button", class: "leads", onclick: () => go(problem) }, ...told) : make("div", { class: "leads" }, ...told);
}

/** The name of the column in which a problem stands; none where it is about more than a cell. */
function columnOf({ cell }) {
  const head = cell && document.querySelector(`.grid[data-kind="${cell.kind}"] [data-row="-1"][data-column="${cell.column}"]`);
  return head?.dataset.name ?? "";
}

/** The problems of one table. */
export function problemsOf(problems, kind) { return problems.filter((problem) => problem.cell?.kind === kind); }
