// Points that can be dragged: where a gutter bends, corners of free shapes, places of a scroll.

import { svg } from "./dom.js";
import { say } from "./words.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

/** The points of an edge, to bend its gutter; points of an arc have no place of their own by keys. */
export function bendShapes(i, page, desk, unit) {
  return page.knobs.flatMap((knob, n) =>
    knob.kind === "bend" && knob.of === i ? [knobShape(n, page, desk, unit, pointsOf(i, page) > 1)] : []);
}

/** Corners of the shapes that are chosen, and the places of a scroll. */
export function freeShapes(page, desk, unit) {
  const chosen = new Set(desk.chosenOf(page).map(({ number }) => number));
  const shown = ({ kind, of }) => kind !== "bend" && (kind !== "corner" || chosen.has(of));
  return page.knobs.flatMap((knob, n) => (shown(knob) ? [knobShape(n, page, desk, unit, true)] : []));
}

const pointsOf = (i, page) => page.knobs.filter((knob) => knob.kind === "bend" && knob.of === i).length;

function knobShape(n, page, desk, unit, focusable) {
  const { kind, of, nth, at } = page.knobs[n];
  const [cx, cy] = at;
  return svg("circle", {
    class: `knob ${kind}`, cx, cy, r: 12 * unit, "data-knob": n,
    ...(focusable && {
      role: "button",
      tabindex: "0",
      "aria-label": say(`knob_${kind}`, { of: kind === "bend" ? of + 1 : of, nth: nth + 1 }),
      "data-focus": `knob:${kind}:${of}:${nth}`,
      onfocus: () => desk.measure(knobWords(page.knobs[n])),
      onkeydown: (event) => knobKey(event, n, page, desk),
    }),
  });
}

export function knobWords({ kind, sizes: [first, second] }) {
  return say(`knobAt_${kind}`, { ...first, down: second?.mm, downIn: second?.in, downPx: second?.px });
}

function knobKey(event, n, page, desk) {
  const way = ARROWS[event.key];
  if (!way || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  event.stopPropagation();
  const [step, { at }] = [desk.step(event.shiftKey), page.knobs[n]];
  desk.pageChange({ do: "pull", knob: n, to: [at[0] + way[0] * step, at[1] + way[1] * step] });
}

/** Bend a gutter a step to the right or down, to the left or up, or no more (0). */
export function bendBy(i, way, page, desk) {
  const n = page.knobs.findIndex((knob) => knob.kind === "bend" && knob.of === i);
  if (n < 0 || pointsOf(i, page) > 1) return;
  const { at } = page.knobs[n];
  const along = page.edges[i].axis === "across" ? 0 : 1;
  const to = at.with(along, at[along] + way * desk.step(false));
  desk.pageChange({ do: "pull", knob: n, to, near: way ? 0 : 10000 });
}
