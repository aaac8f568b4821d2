// Tells where the panels of a page lie, to a drawing app that runs JavaScript.
//
// Run it as `node page_boxes.js ISSUE PAGE`; the issue may also come on standard input, as `-`.
// The command is guidekit, or what the variable GUIDEKIT names, with spaces between its words.
"use strict";

const { spawnSync } = require("node:child_process");

/** The boxes of one page: { trim, safe_area, panels: [{ number, box: [left, top, right, bottom] }] }. */
function pageBoxes(issue, page, text) {
  const [command, ...words] = (process.env.GUIDEKIT || "guidekit").split(" ");
  const options = ["measure", issue, "--pages", String(page), "--json"];
  const run = spawnSync(command, [...words, ...options], { encoding: "utf8", input: text });
  const lines = run.stdout.split("\n").filter(Boolean).map((line) => JSON.parse(line));
  const wrong = lines.filter((line) => line.event === "error");
  if (wrong.length) {
    throw new Error(wrong.map((line) => line.told).join("\n"));
  }
  return lines.find((line) => line.event === "page").measured;
}

module.exports = { pageBoxes };

if (require.main === module) {
  const [issue, page] = process.argv.slice(2);
  try {
    if (!page) {
      throw new Error("Run it as  node page_boxes.js ISSUE PAGE");
    }
    const text = issue === "-" ? require("node:fs").readFileSync(0, "utf8") : undefined;
    const { panels } = pageBoxes(issue, page, text);
    for (const { number, box } of panels) {
      console.log(`panel ${number}: ${box.join(" ")}`);
    }
  } catch (error) {
    console.error(error.message);
    process.exitCode = 2;
  }
}
