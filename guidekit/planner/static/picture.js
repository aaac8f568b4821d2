// Small pictures of pages: the trim, and the panels in it.

import { svg } from "./dom.js";

export function points(flat) {
  const pairs = [];
  for (let i = 0; i < flat.length; i += 2) pairs.push(`${flat[i]},${flat[i + 1]}`);
  return pairs.join(" ");
}

export function picture(shape) {
  const [left, top, right, bottom] = shape.trim;
  const line = (right - left) / 60;
  const box = [left - line, top - line, right - left + 2 * line, bottom - top + 2 * line];
  const inside = [
    svg("rect", { class: "paper", x: left, y: top, width: right - left, height: bottom - top }),
    shape.panels.map((flat) => svg("polygon", { class: "panel", points: points(flat) })),
  ];
  if (shape.fold !== null && shape.fold !== undefined) {
    inside.push(svg("line", { class: "fold", x1: shape.fold, x2: shape.fold, y1: top, y2: bottom }));
  }
  return svg("svg", { viewBox: box.join(" "), "aria-hidden": "true", class: "picture" }, inside);
}
