// How the page reaches the program: over the network of this machine. In `alone/`, the program is a part of the page.

import { make } from "./dom.js";

/** Whether a phone may come in beside this page. */
export const hasPhone = true;

/** Readies the way to the program. */
export async function begin() { /* whoever served the page is there */ }

/** @returns {Promise<Response>} */
export function reach(path, options) { return fetch(path, options); }

/** Shows the schedule of a report at a step. */
export function showSchedule(frame, report, step) {
  // An address that differs only behind # would leave the old page standing.
  showSchedule.turn = (showSchedule.turn ?? 0) + 1;
  frame.src = `${address(report, "schedule.html")}?${showSchedule.turn}#at-${step}`;
}

/** A link to a file of a report. */
export function fileLink(report, file) { return make("a", { href: address(report, file), target: "_blank" }, file); }

function address(report, file) { return `reports/${encodeURIComponent(report)}/${encodeURIComponent(file)}`; }
