// What is held with pointer, finger or pen: edges, their ends, outer edges, insets, lines drawn.

import { svg } from "./dom.js";
import { knobWords } from "./knobs.js";
import { redraw, panelWords, edgeWords, gripShare } from "./sheet.js";
import { say } from "./words.js";

const NEAR = 6; // screen pixels in which an edge is caught

/** What a finger holds does not scroll the page; two fingers make it larger, wherever they are. */
export function keepStill(event) {
  const held = "[data-knob],[data-out],[data-size],[data-edge],.chosen";
  if (event.touches.length === 1 && event.target.closest(held)) event.preventDefault();
}

export function hold(root, page, desk, unit, event) {
  if (event.button || event.isPrimary === false) return;
  const target = event.target.closest("[data-knob],[data-out],[data-size],[data-edge],[data-panel]");
  if (!target || !(page.shaped || target.dataset.knob)) return;
  const scale = 1 / root.getScreenCTM().a; // canvas pixels in a screen's
  const place = (at) => {
    const found = new DOMPoint(at.clientX, at.clientY).matrixTransform(root.getScreenCTM().inverse());
    return [found.x, found.y];
  };
  const act = kindOf(target, page, desk, unit, scale);
  const start = place(event);
  let moved = false;
  event.preventDefault();
  target.focus?.({ preventScroll: true });
  root.setPointerCapture(event.pointerId);
  const trial = new Trial(root, page, desk);
  const own = (act) => (at) => at.pointerId === event.pointerId && act(at); // not of a second finger
  const go = own((at) => {
    const here = place(at);
    moved ||= Math.hypot(here[0] - start[0], here[1] - start[1]) > 4 * scale;
    if (moved) act.move(start, here, at, trial);
  });
  const escape = (key) => {
    if (key.key !== "Escape") return;
    key.stopPropagation();
    stop();
  };
  const letGo = () => {
    removeEventListener("keydown", escape, true);
    root.removeEventListener("pointermove", go);
    root.removeEventListener("pointerup", end);
    removeEventListener("pointercancel", lost, true);
    removeEventListener("lostpointercapture", lost, true);
    trial.ended = true;
  };
  const end = own((at) => {
    letGo();
    if (moved) act.drop(start, place(at), at, trial);
    else act.press(at);
  });
  const stop = () => {
    letGo();
    redraw(root, page, desk);
    desk.measure(say("leftAsItIs"));
  };
  const lost = own(stop); // by the system, or because the page was drawn anew
  addEventListener("keydown", escape, true);
  root.addEventListener("pointermove", go);
  root.addEventListener("pointerup", end);
  addEventListener("pointercancel", lost, true);
  addEventListener("lostpointercapture", lost, true);
}

/** Ask for the page as it would be, the last wish only, and draw it. */
class Trial {
  constructor(root, page, desk) {
    Object.assign(this, { root, page, desk, wish: null, busy: false, ended: false });
  }

  ask(change, words) {
    this.wish = { change, words };
    if (!this.busy) this.next();
  }

  async next() {
    this.busy = true;
    while (this.wish && !this.ended) {
      const { change, words } = this.wish;
      this.wish = null;
      try {
        const tried = await this.desk.attempt(change);
        if (this.ended) break;
        redraw(this.root, { ...this.page, ...tried }, this.desk);
        this.desk.measure(words(tried));
      } catch (error) {
        this.desk.measure(error.message);
      }
    }
    this.busy = false;
  }
}

function kindOf(target, page, desk, unit, scale) {
  const data = target.dataset;
  if (data.knob) return pull(page, desk, Number(data.knob), scale);
  if (data.out) return pullOut(page, desk, Number(data.panel), data.out, scale);
  if (data.size) return resize(page, desk, Number(data.panel), Number(data.size));
  if (data.end) return lean(page, desk, unit, Number(data.edge), data.end === "first");
  if (data.edge) return dragEdge(page, desk, Number(data.edge), scale);
  const panel = page.panels.find((one) => one.number === Number(data.panel));
  if (panel.inset !== null && desk.chosen.has(panel.key)) return shift(page, desk, panel);
  return draw(page, desk, panel);
}

function dragEdge(page, desk, edge, scale) {
  const along = page.edges[edge].axis === "across" ? 0 : 1;
  const change = (start, here, at) => ({
    do: "drag",
    edge,
    to: page.edges[edge].middle + here[along] - start[along],
    near: at.shiftKey ? 0 : Math.round(NEAR * scale),
  });
  const rests = { half: "restHalf", third: "restThird", edge: "restEdge", length: "restLength" };
  const words = (tried) =>
    edgeWords(tried.edges[edge]) + (rests[tried.at] ? ` – ${say(rests[tried.at])}` : "");
  return {
    move: (start, here, at, trial) => trial.ask(change(start, here, at), words),
    drop: (start, here, at) => desk.pageChange(change(start, here, at)),
    press: () => desk.measure(edgeWords(page.edges[edge])),
  };
}

function lean(page, desk, unit, edge, first) {
  const { axis, middle } = page.edges[edge];
  const along = axis === "across" ? 0 : 1;
  const share = gripShare(page.edges[edge], unit);
  const to = (here) => middle + (here[along] - middle) / share;
  const change = (start, here, at) => ({ do: "lean", edge, first, to: to(here), fine: at.shiftKey });
  return {
    move: (start, here, at, trial) => trial.ask(change(start, here, at), (tried) => edgeWords(tried.edges[edge])),
    drop: (start, here, at) => desk.pageChange(change(start, here, at)),
    press: () => {},
  };
}

function pull(page, desk, knob, scale) {
  const { at } = page.knobs[knob];
  const change = (start, here, event) => ({
    do: "pull",
    knob,
    to: at.map((x, i) => x + here[i] - start[i]),
    near: event.shiftKey ? 0 : Math.round(NEAR * scale),
  });
  return {
    move: (start, here, event, trial) => trial.ask(change(start, here, event), (tried) => knobWords(tried.knobs[knob])),
    drop: (start, here, event) => desk.pageChange(change(start, here, event)),
    press: () => desk.measure(knobWords(page.knobs[knob])),
  };
}

function pullOut(page, desk, number, edge, scale) {
  const panel = page.panels.find((one) => one.number === number);
  const way = { left: [-1, 0], right: [1, 0], top: [0, -1], bottom: [0, 1] }[edge];
  const on = (start, here) =>
    (here[0] - start[0]) * way[0] + (here[1] - start[1]) * way[1] > 4 * scale;
  const change = (wanted) => ({ do: "bleed", panel: number, edge, on: wanted });
  return {
    move: (start, here, at, trial) => trial.ask(change(on(start, here)), () => panelWords(panel)),
    drop: (start, here) => desk.pageChange(change(on(start, here))),
    press: () => desk.pageChange(change(!panel.bleed.includes(edge))),
  };
}

function shift(page, desk, panel) {
  const change = (start, here) => {
    const [x, y] = [here[0] - start[0], here[1] - start[1]];
    const [left, top, right, bottom] = panel.box;
    return { do: "inset", inset: panel.inset, box: [left + x, top + y, right + x, bottom + y] };
  };
  return {
    move: (start, here, at, trial) => trial.ask(change(start, here), () => panelWords(panel)),
    drop: (start, here) => desk.pageChange(change(start, here)),
    press: (at) => desk.choose(panel, at.shiftKey),
  };
}

function resize(page, desk, number, inset) {
  const panel = page.panels.find((one) => one.number === number);
  const change = (start, here) => ({ do: "inset", inset, box: [panel.box[0], panel.box[1], here[0], here[1]] });
  return {
    move: (start, here, at, trial) => trial.ask(change(start, here), () => panelWords(panel)),
    drop: (start, here) => desk.pageChange(change(start, here)),
    press: () => {},
  };
}

/** A line right across a panel divides it; a box lays a smaller panel over it. */
function draw(page, desk, panel) {
  const wish = (start, here) => {
    const [x, y] = [Math.abs(here[0] - start[0]), Math.abs(here[1] - start[1])];
    if (Math.min(x, y) > 0.3 * Math.max(x, y)) return { do: "inset", box: [...start, ...here] };
    const axis = x > y ? "down" : "across";
    const along = axis === "across" ? 0 : 1;
    return { do: "divide", panel: panel.number, axis, at: (start[along] + here[along]) / 2 };
  };
  const pencil = (start, here, trial) => {
    trial.root.querySelector(".pencil")?.remove();
    const change = wish(start, here);
    const [left, top, right, bottom] = panel.box;
    const style = { class: "pencil" };
    let mark;
    if (change.do === "inset") {
      mark = svg("rect", { ...style, x: Math.min(start[0], here[0]), y: Math.min(start[1], here[1]),
        width: Math.abs(here[0] - start[0]), height: Math.abs(here[1] - start[1]) });
    } else if (change.axis === "across") {
      mark = svg("line", { ...style, x1: change.at, x2: change.at, y1: top, y2: bottom });
    } else {
      mark = svg("line", { ...style, y1: change.at, y2: change.at, x1: left, x2: right });
    }
    trial.root.append(mark);
  };
  return {
    move: (start, here, at, trial) => pencil(start, here, trial),
    drop: (start, here, at, trial) => {
      trial.root.querySelector(".pencil")?.remove();
      desk.pageChange(wish(start, here));
    },
    press: (at) => desk.choose(panel, at.shiftKey),
  };
}
