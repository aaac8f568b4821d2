// What is asked of the server on this machine, and nothing of any other.

export class Refused extends Error {
  constructor({ told, stale, text }) {
    super(told);
    this.stale = stale;
    this.text = text; // that could not be saved
  }
}

let waiting = 0;

/** Say on the page whether something is asked for that has not come. */
const busy = () => document.body.setAttribute("aria-busy", String(waiting > 0));

/** The answer to one question; a refusal is thrown. */
async function answer(asked) {
  waiting += 1;
  busy();
  try {
    return await read(await asked);
  } finally {
    waiting -= 1;
    setTimeout(busy); // when what comes of the answer is drawn
  }
}

async function read(response) {
  const data = await response.json().catch(() => ({ told: response.statusText }));
  if (!response.ok) throw new Refused(data);
  return data;
}

export async function get(path) {
  return answer(fetch(path, { credentials: "same-origin" }));
}

export async function post(path, body) {
  const headers = { "Content-Type": "application/json" };
  return answer(
    fetch(path, { method: "POST", headers, body: JSON.stringify(body), credentials: "same-origin" }),
  );
}

/** Hear what happens, until the tab closes. */
export function listen(hear, lost) {
  const source = new EventSource("/events");
  source.onmessage = (event) => hear(JSON.parse(event.data));
  source.onerror = () => {
    if (source.readyState === EventSource.CLOSED) lost();
    else fetch("/book", { method: "GET" }).catch(lost);
  };
}
