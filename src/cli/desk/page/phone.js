// The phone beside the trimmer: the steps with their ticks, and stock-take.

import { get, post } from "./ask.js";
import { showSchedule } from "./carrier.js";
import { Count } from "./count.js";
import { byId, field, freshId, make } from "./dom.js";
import { Ticks } from "./ticks.js";
import { words } from "./words.js";

const told = words.phone;

/** The steps of a report. Ticks stay in the browser while the net is down, and are sent when it is back. */
class Steps {
  constructor() {
    this.which = make("select", { onchange: () => this.open(this.which.value) });
    this.frame = make("iframe", { class: "walk", title: words.cut.walk });
    this.state = make("p", { class: "note", role: "status" });
    const title = make("h2", { id: freshId("title") }, told.steps);
    this.chooser = field(words.cut.which, this.which);
    this.element = make("section", { "aria-labelledby": title.id }, title, make("p", { class: "care" }, words.cut.care),
      this.chooser, this.frame, this.state);
    this.ticks = new Ticks(this.frame, (isKept) => this.state.replaceChildren(isKept ? told.kept : told.waiting));
  }

  async refresh() {
    const { reports } = await get("reports");
    this.chooser.hidden = reports.length < 2;
    this.which.replaceChildren(...reports.map(({ name }) => make("option", { value: name }, name)));
    if (reports.length === 0) { this.state.replaceChildren(told.none); return; }
    await this.open(reports.at(-1).name);
  }

  async open(name) {
    this.which.value = name;
    const at = await this.ticks.open(name);
    showSchedule(this.frame, name, at);
  }
}

/** Stock-take on the phone. */
class Counting {
  constructor() {
    this.count = new Count(() => this.refresh());
    this.state = make("p", { class: "note", role: "status" });
    this.count.toggle();
    this.element = make("div", {}, this.count.element, this.state);
  }

  async refresh() {
    try { this.count.show(await get("shelf")); this.state.replaceChildren(); }
    catch (trouble) { this.state.replaceChildren(trouble.message); }
  }
}

function start() {
  const places = [[told.steps, new Steps()], [told.count, new Counting()]];
  byId("title").replaceChildren(told.title);
  const links = places.map(([name, place], at) => make("a", { href: `#${at}`, onclick: () => go(place) }, name));
  byId("places").setAttribute("aria-label", words.placesLabel);
  byId("places").append(make("ul", {}, links.map((link) => make("li", {}, link))));
  const go = (place) => {
    places.forEach(([, each], at) => { if (each === place) { links[at].setAttribute("aria-current", "page"); } else { links[at].removeAttribute("aria-current"); } });
    byId("main").replaceChildren(make("div", { class: "place" }, place.element));
    place.refresh();
  };
  go(places[0][1]);
}

start();
