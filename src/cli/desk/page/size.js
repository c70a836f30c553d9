// The size of a strip in words.

import { words } from "./words.js";

const ticks = 40000;

/** The size as the program says it; else in millimetres. */
export function sizeOf(strip) {
  const mm = (length) => String(Math.round(length / ticks * 10) / 10);
  return strip.size ?? words.shelf.metric(mm(strip.width), mm(strip.height));
}
