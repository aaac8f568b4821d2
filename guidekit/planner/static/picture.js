// Small pictures of pages: the trim, and the panels in it.

import { svg } from "./dom.js";

export function points(flat) {
  const pairs = [];
  for (let i = 0; i < flat.length; i += 2) pairs.push(`${flat[i]},${flat[i + 1]}`);
  return pairs.join(" ");
}

function sized(image, [width, height]) {
  image.setAttribute("width", width);
  image.setAttribute("height", height);
  return image;
}

/** The lower outer corner of a page after which one turns the leaf, folded in. */
function corner([left, top, right, bottom], on) {
  const at = (bottom - top) / 15;
  const [x, inward] = on === "left" ? [left, at] : [right, -at];
  const flat = [x, bottom - at, x + inward, bottom - at, x + inward, bottom];
  return [svg("polygon", { class: "desk", points: points([x, bottom - at, x + inward, bottom, x, bottom]) }),
    svg("polygon", { class: "corner", points: points(flat) })];
}

/**
 * A page with its panels; `turned` says at which edge one turns the leaf after it, `drawing` is a
 * picture of the whole canvas.
 */
export function picture(shape, turned = "", drawing = null) {
  const [left, top, right, bottom] = shape.trim;
  const line = (right - left) / 60;
  const rise = Math.min(line, (bottom - top) / 100); // a spread is no higher than its pages
  const box = [left - line, top - rise, right - left + 2 * line, bottom - top + 2 * rise];
  const inside = [
    svg("rect", { class: "paper", x: left, y: top, width: right - left, height: bottom - top }),
    drawing && sized(drawing, shape.size),
    shape.panels.map((flat) => svg("polygon", { class: "panel", points: points(flat) })),
  ];
  const folds = shape.folds ?? (shape.fold === null || shape.fold === undefined ? [] : [shape.fold]);
  for (const fold of folds) inside.push(svg("line", { class: "fold", x1: fold, x2: fold, y1: top, y2: bottom }));
  if (shape.barcode) {
    const [x, y, x2, y2] = shape.barcode;
    inside.push(svg("rect", { class: "barcode", x, y, width: x2 - x, height: y2 - y }));
  }
  if (turned) inside.push(corner(shape.trim, turned));
  return svg("svg", { viewBox: box.join(" "), "aria-hidden": "true", class: "picture" }, inside);
}
