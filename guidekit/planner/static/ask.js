// What is asked of the server on this machine, and nothing of any other.

export class Refused extends Error {
  constructor(told, stale) {
    super(told);
    this.stale = stale;
  }
}

async function answer(response) {
  const data = await response.json().catch(() => ({ told: response.statusText }));
  if (!response.ok) throw new Refused(data.told, data.stale);
  return data;
}

export async function get(path) {
  return answer(await fetch(path, { credentials: "same-origin" }));
}

export async function post(path, body) {
  const headers = { "Content-Type": "application/json" };
  return answer(
    await fetch(path, { method: "POST", headers, body: JSON.stringify(body), credentials: "same-origin" }),
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
