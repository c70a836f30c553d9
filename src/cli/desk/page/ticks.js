// The ticks of the walk. The schedule keeps them in the browser, the folder on disk; desk and phone stay in step.

import { get, post } from "./ask.js";

const own = "cardwright-", walk = `${own}walk-`;

/** Where the walk begins. */
const first = "go-1";

/** How often the disk is asked, in milliseconds. */
const turn = 1500;

/** The ticks of one report at a time. What was last the same here and on disk outlives a reload, so that nothing counts twice. */
export class Ticks {
  /** @param {HTMLIFrameElement} frame  shows the schedule  @param {function(boolean)} told  hears whether ticks get to the disk */
  constructor(frame, told) {
    Object.assign(this, { frame, told, report: null, base: {}, sent: null, at: null, isBusy: false });
    setInterval(() => this.keepUp(), turn);
    for (const name of ["storage", "online"]) { addEventListener(name, ({ key }) => { if (!key || key.startsWith(own)) { this.keepUp(); } }); }
  }

  /** Puts the ticks of a report where its schedule looks for them. @returns {Promise<string>} the step where she was */
  async open(report) {
    this.report = null;
    Object.assign(this, { base: {}, at: null, sent: null }, JSON.parse(localStorage.getItem(memory(report)) ?? "{}"));
    const theirs = await kept(report).catch(() => ({ ticks: this.base }));
    const known = [...Object.keys(this.base), ...Object.keys(theirs.ticks)];
    const ours = Object.fromEntries(known.filter((key) => localStorage.getItem(key) !== null).map((key) => [key, localStorage.getItem(key)]));
    const next = this.adopt(ours, theirs.ticks);
    this.report = report;
    return placeOf(ours) ?? placeOf(next) ?? first;
  }

  /** Brings here what is new on disk, and there what is new here. */
  async keepUp() {
    const report = this.report;
    if (!report || this.isBusy || document.hidden) { return; }
    this.isBusy = true;
    try {
      const theirs = await kept(report), ours = ticksOf(this.frame);
      if (report === this.report) { await this.exchange(report, ours, theirs); }
      this.told(true);
    } catch { this.told(false); }
    this.isBusy = false;
  }

  async exchange(report, ours, theirs) {
    // What was sent without an answer may have arrived.
    if (this.sent && isSame(this.sent, theirs.ticks)) { this.base = this.sent; }
    const at = placeOf(ours), next = this.adopt(ours, theirs.ticks);
    if (!isSame(next, theirs.ticks)) {
      this.sent = next;
      await post("ticks", { report, was: theirs.digest, ticks: next });
      if (report === this.report) { this.base = next; }
    }
    if (report !== this.report) { return; }
    Object.assign(this, { sent: null, at });
    this.remember();
  }

  // From here on theirs is part of ours: only what is ours alone is new to them.
  adopt(ours, theirs) {
    const next = merged({ base: this.base, ours, theirs, at: this.at }), mine = withPlace(next, placeOf(ours));
    for (const [key, text] of Object.entries(mine)) { if (!isSame({ [key]: text }, { [key]: ours[key] })) { localStorage.setItem(key, text); } }
    this.base = theirs;
    return next;
  }

  remember() { localStorage.setItem(memory(this.report), JSON.stringify({ base: this.base, at: this.at })); }
}

function memory(report) { return `desk-ticks-${report}`; }

async function kept(report) { return get(`ticks?report=${encodeURIComponent(report)}`); }

/** The entries of the plan that the frame shows. */
function ticksOf(frame) {
  const plan = frame.contentDocument?.documentElement.dataset.plan;
  const keys = plan ? Object.keys(localStorage).filter((key) => key.startsWith(own) && key.endsWith(plan)) : [];
  return Object.fromEntries(keys.map((key) => [key, localStorage.getItem(key)]));
}

/** What was spoiled by the walk's own count: pairs of piece and number. */
export function spoiledSoFar(frame) { return Object.entries(walkOf(ticksOf(frame)).spoiled).filter(([, count]) => count > 0); }

function walkOf(ticks) {
  const [, text] = Object.entries(ticks).find(([key]) => key.startsWith(walk)) ?? [];
  return { at: null, lifts: {}, spoiled: {}, ...JSON.parse(text ?? "{}") };
}

function placeOf(ticks) { return walkOf(ticks).at || null; }

function withPlace(ticks, at) {
  const put = ([key, text]) => [key, key.startsWith(walk) && at ? JSON.stringify({ ...JSON.parse(text), at }) : text];
  return Object.fromEntries(Object.entries(ticks).map(put));
}

/** What is on neither side as it was at last: a box or a lift goes by who changed it, spoiled pieces add up. */
export function merged({ base, ours, theirs, at }) {
  const keys = [...new Set([...Object.keys(theirs), ...Object.keys(ours)])];
  const one = (key) => (key in ours ? (key.startsWith(walk) ? walks : boxes)(base[key], ours[key], theirs[key], at) : theirs[key]);
  return Object.fromEntries(keys.map((key) => [key, one(key)]));
}

function boxes(...sides) {
  const [was, mine, other] = sides.slice(0, 3).map((text) => new Set(JSON.parse(text ?? "[]")));
  const isOn = (id) => (mine.has(id) !== was.has(id) ? mine : other).has(id);
  return JSON.stringify([...new Set([...other, ...mine])].filter(isOn));
}

function walks(base, ours, theirs, at) {
  const [was, mine, other] = [base, ours, theirs].map((text) => walkOf({ [walk]: text ?? "{}" }));
  const isMoved = mine.at && mine.at !== at;
  return JSON.stringify({
    at: (isMoved ? mine.at : other.at ?? mine.at) ?? "",
    lifts: each([was.lifts, mine.lifts, other.lifts], (before, here, there) => (here !== before ? here : there)),
    spoiled: each([was.spoiled, mine.spoiled, other.spoiled], (before = 0, here = 0, there = 0) => Math.max(0, there + here - before)),
  });
}

function each(sides, choose) {
  const names = [...new Set(sides.flatMap((side) => Object.keys(side)))].sort();
  const chosen = names.map((name) => [name, choose(...sides.map((side) => side[name]))]);
  return Object.fromEntries(chosen.filter(([, value]) => value));
}

function isSame(one, other) {
  const settled = ([key, text]) => [key, settle(JSON.parse(text ?? "null"))];
  const whole = (ticks) => JSON.stringify(Object.entries(ticks).map(settled).sort());
  return whole(one) === whole(other);
}

function settle(value) {
  if (Array.isArray(value)) { return [...value].sort(); }
  const isThing = value && typeof value === "object";
  return isThing ? Object.entries(value).map(([key, inner]) => [key, settle(inner)]).sort() : value;
}
