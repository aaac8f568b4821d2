// One page, large: drawn as the server says, with what can be taken hold of.

import { nearest, svg } from "./dom.js";
import { points } from "./picture.js";
import { say } from "./words.js";
import { hold, keepStill } from "./hold.js";
import { bendBy, bendShapes, freeShapes } from "./knobs.js";

const GRIP = 12; // screen pixels from the middle of a grip to its edge

const box = (name, [left, top, right, bottom]) =>
  svg("rect", { class: name, x: left, y: top, width: right - left, height: bottom - top });

/** So many pixels of the canvas as there are in about one of the screen, where the page will lie. */
function unitOf([width, height]) {
  const beside = innerWidth > 957; // what is said of the page stands beside it, and not below
  return Math.max(width / (innerWidth * (beside ? 0.5 : 0.9)), height / Math.min(0.8 * innerHeight, 1120));
}

/** The drawing of a page, on which things can be held. */
export function sheetView(page, desk) {
  const [width, height] = page.size;
  const unit = unitOf(page.size);
  const root = svg("svg", {
    class: "sheet",
    viewBox: `${-16 * unit} ${-16 * unit} ${width + 32 * unit} ${height + 32 * unit}`,
    role: "group",
    "aria-label": say("drawing"),
  });
  root.append(...inside(page, desk, unit));
  root.addEventListener("pointerdown", (event) => hold(root, page, desk, unit, event));
  root.addEventListener("touchstart", keepStill);
  root.addEventListener("pointermove", (event) => point(event, page, desk));
  return root;
}

/** Draw another state of the page in place of the one that is there, without losing the pointer. */
export function redraw(root, page, desk) {
  const focused = document.activeElement?.dataset?.focus;
  const unit = unitOf(page.size);
  root.replaceChildren(...inside(page, desk, unit));
  if (focused) root.querySelector(`[data-focus="${focused}"]`)?.focus();
}

function inside(page, desk, unit) {
  const parts = [box("bleed", page.bleed), box("paper", page.trim)];
  for (const safe of page.safe ?? []) parts.push(box("safe", safe));
  for (const flat of page.plain ?? []) parts.push(svg("polygon", { class: "panel plain", points: points(flat) }));
  if (page.fold !== null) {
    parts.push(svg("line", { class: "fold", x1: page.fold, x2: page.fold, y1: page.trim[1], y2: page.trim[3] }));
  }
  const panels = page.panels.map((panel) => panelShape(panel, page, desk, unit));
  parts.push(...panels);
  if (page.shaped) {
    page.edges.forEach((edge, i) => parts.push(edgeShape(edge, i, page, desk, unit)));
    for (const panel of desk.chosenOf(page)) parts.push(...grips(panel, page, desk, unit));
  }
  parts.push(...freeShapes(page, desk, unit));
  return parts;
}

function panelShape(panel, page, desk, unit) {
  const chosen = desk.chosen.has(panel.key);
  const [left, top] = panel.at;
  const size = Math.max(...page.size) / 38; // as the server takes it to be, which says where it stands
  const seen = panel.seen.length
    ? svg("clipPath", { id: `seen-${panel.number}` },
        svg("path", { "clip-rule": "evenodd", d: panel.seen.map((ring) => `M${points(ring)}Z`).join("") }))
    : null;
  return svg(
    "g",
    {
      "clip-path": seen && `url(#seen-${panel.number})`,
      class: `panel-group${chosen ? " chosen" : ""}${panel.inset === null ? "" : " inset"}`,
      role: "button",
      tabindex: "0",
      "aria-pressed": chosen ? "true" : "false",
      "aria-label": say("panelLabel", { number: panel.number, width: panel.width.mm, height: panel.height.mm }),
      "data-panel": panel.number,
      "data-focus": panel.key,
      onkeydown: (event) => panelKey(event, panel, page, desk),
    },
    seen,
    svg("polygon", {
      class: `panel${panel.border ? "" : " bare"}`,
      points: points(panel.points),
      "stroke-width": Math.max(panel.border, unit),
    }),
    svg("text", { class: "figure", x: left, y: top + 0.8 * size, "font-size": size }, String(panel.number)),
    panel.figures.map((flat) => svg("polygon", { class: "part", points: points(flat) })),
  );
}

/** How far from its middle the grips of an edge lie: not at its ends, where they would cover other gutters. */
export const gripShare = ({ from, to }, unit) => Math.max(0.5, 1 - (2 * GRIP * unit) / (to - from));

function edgeShape(edge, i, page, desk, unit) {
  const across = edge.axis === "across";
  const ends = across
    ? { x1: edge.first, y1: edge.from, x2: edge.last, y2: edge.to }
    : { x1: edge.from, y1: edge.first, x2: edge.to, y2: edge.last };
  const [x, y] = [(ends.x1 + ends.x2) / 2, (ends.y1 + ends.y2) / 2];
  const share = gripShare(edge, unit);
  const grip = (first) =>
    svg("circle", {
      class: "lean",
      "data-edge": i,
      "data-end": first ? "first" : "last",
      cx: x + ((first ? ends.x1 : ends.x2) - x) * share,
      cy: y + ((first ? ends.y1 : ends.y2) - y) * share,
      r: GRIP * unit,
    });
  return svg(
    "g",
    {
      class: `edge ${edge.axis}`,
      role: "slider",
      tabindex: "0",
      "aria-orientation": across ? "horizontal" : "vertical",
      "aria-label": say("edgeLabel", { index: i + 1 }),
      "aria-valuenow": edge.before.mm,
      "aria-valuemin": "0",
      "aria-valuemax": String(Number(edge.before.mm) + Number(edge.behind.mm)),
      "aria-valuetext": say("edgeValue", { before: edge.before.mm, behind: edge.behind.mm }),
      "data-edge": i,
      "data-focus": `edge:${i}`,
      onfocus: () => desk.measure(edgeWords(edge)),
      onkeydown: (event) => edgeKey(event, edge, i, page, desk),
    },
    svg("line", { class: "reach", "stroke-width": 26 * unit, ...ends }),
    svg("line", { class: "mark", "stroke-width": 3 * unit, ...ends }),
    edge.leans ? [grip(true), grip(false), bendShapes(i, page, desk, unit)] : [],
  );
}

/** At the outer edges of a chosen panel, to pull them out; at the corner of an inset, its size. */
function grips(panel, page, desk, unit) {
  const [left, top, right, bottom] = panel.box;
  const middle = { left: [left, (top + bottom) / 2], right: [right, (top + bottom) / 2],
    top: [(left + right) / 2, top], bottom: [(left + right) / 2, bottom] };
  const found = panel.ends.map((edge) => {
    const out = panel.bleed.includes(edge);
    const [x, y] = middle[edge];
    return svg("rect", {
      class: `out${out ? " is-out" : ""}`,
      role: "switch",
      tabindex: "0",
      "aria-checked": out ? "true" : "false",
      "aria-label": say("outLabel", { number: panel.number, edge: say(edge) }),
      "data-out": edge,
      "data-panel": panel.number,
      "data-focus": `out:${panel.number}:${edge}`,
      x: x - 14 * unit, y: y - 14 * unit, width: 28 * unit, height: 28 * unit, rx: 4 * unit,
      onkeydown: (event) => {
        if (event.key !== "Enter" && event.key !== " ") return;
        event.preventDefault();
        desk.pageChange({ do: "bleed", panel: panel.number, edge, on: !out });
      },
    });
  });
  if (panel.inset !== null && !panel.own) {
    found.push(svg("rect", {
      class: "out", "data-size": panel.inset, "data-panel": panel.number, "aria-hidden": "true",
      x: right - 14 * unit, y: bottom - 14 * unit, width: 28 * unit, height: 28 * unit,
    }));
  }
  return found;
}

export function edgeWords(edge) {
  const values = {
    gap: edge.gap.mm, before: edge.before.mm, behind: edge.behind.mm,
    beforeIn: edge.before.in, behindIn: edge.behind.in, beforePx: edge.before.px, behindPx: edge.behind.px,
  };
  const lean = edge.slant && edge.slant !== "0 deg" ? ` ${say("edgeLean", { slant: edge.slant })}` : "";
  return `${say("edgeIs", values)} ${say("edgeInches", values)}${lean}`;
}

export function panelWords(panel) {
  return say("panelIs", {
    number: panel.number, width: panel.width.mm, height: panel.height.mm, widthIn: panel.width.in,
    heightIn: panel.height.in, widthPx: panel.width.px, heightPx: panel.height.px,
  });
}

/** Tell the measures of what is pointed at. */
function point(event, page, desk) {
  if (event.buttons) return;
  const edge = event.target.closest("[data-edge]");
  const panel = event.target.closest("[data-panel]");
  if (edge) desk.measure(edgeWords(page.edges[edge.dataset.edge]));
  else if (panel) {
    const found = page.panels.find((one) => one.number === Number(panel.dataset.panel));
    if (found) desk.measure(panelWords(found));
  }
}

function panelKey(event, panel, page, desk) {
  const { key, shiftKey } = event;
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const parts = shiftKey ? 3 : 2;
  const number = panel.number;
  const act = {
    enter: () => desk.choose(panel, shiftKey),
    " ": () => desk.choose(panel, shiftKey),
    s: () => desk.pageChange({ do: "divide", panel: number, axis: "across", parts }),
    u: () => desk.pageChange({ do: "divide", panel: number, axis: "down", parts }),
    j: () => desk.join(),
    o: () => desk.toggleBleed(panel),
    i: () => desk.layOver(panel),
    delete: () => panel.inset !== null && desk.liftOff(panel),
  }[key.toLowerCase()];
  if (key.startsWith("Arrow") && panel.inset !== null && desk.chosen.has(panel.key)) {
    desk.nudge(panel, key, shiftKey);
  } else if (key.startsWith("Arrow")) {
    nearest([...document.querySelectorAll(".panel-group")], event.currentTarget, key)?.focus();
  } else if (act) {
    act();
  } else {
    return;
  }
  event.preventDefault();
}

function edgeKey(event, edge, i, page, desk) {
  const { key, shiftKey } = event;
  const step = desk.step(shiftKey) * ({ ArrowLeft: -1, ArrowUp: -1, ArrowRight: 1, ArrowDown: 1 }[key] ?? 0);
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const half = (edge.first - edge.last) / 2;
  if (step) {
    const near = shiftKey ? 0 : Math.ceil(Math.abs(step));
    desk.pageChange({ do: "drag", edge: i, to: edge.middle + step, near, whole: true });
  } else if (key === "[" || key === "]") {
    const long = (edge.to - edge.from) / 2;
    const angle = Math.atan2(half, long) + (Math.PI / 180) * (key === "]" ? 1 : -1);
    const to = edge.middle + long * Math.tan(angle);
    if (edge.leans) desk.pageChange({ do: "lean", edge: i, first: true, to });
  } else if (key === "=") {
    if (half) desk.pageChange({ do: "lean", edge: i, first: true, to: edge.middle });
    else bendBy(i, 0, page, desk);
  } else if (key === "(" || key === ")") {
    bendBy(i, key === ")" ? 1 : -1, page, desk);
  } else if (key === "Home") {
    desk.halve(edge, i);
  } else {
    return;
  }
  event.preventDefault();
}
