// Questions to the bench's server. Every one carries the text of the design: the server keeps none.
import { signal } from "@preact/signals";
import type { components } from "./api";

export type Schemas = components["schemas"];
export type Problem = Schemas["Problem"];
export type Progress = Schemas["Progress"];

// A refusal, in the server's words.
export class Refused extends Error {
  constructor(
    readonly status: number,
    readonly problems: Problem[],
    readonly file?: Schemas["File"],
  ) {
    super(problems.map((p) => (p.key ? `${p.key}: ` : "") + p.what + (p.hint ? ` (${p.hint})` : "")).join("; "));
  }
}

export const away = signal(false); // whether the server does not answer

const token = (() => {
  const given = new URLSearchParams(location.hash.slice(1)).get("token");
  if (given) {
    sessionStorage.setItem("token", given);
    history.replaceState(null, "", location.pathname);
  }
  return given ?? sessionStorage.getItem("token");
})();

async function send(method: string, path: string, body: unknown, abort?: AbortSignal): Promise<Response> {
  const headers: Record<string, string> = {};
  if (body !== undefined) headers["Content-Type"] = "application/json";
  if (token) headers["Authorization"] = `Bearer ${token}`;
  let r: Response;
  try {
    r = await fetch(path, { method, headers, body: body === undefined ? undefined : JSON.stringify(body), signal: abort });
  } catch (e) {
    if (!abort?.aborted) away.value = true;
    throw e;
  }
  away.value = false;
  if (!r.ok) {
    const said = (await r.json().catch(() => null)) as Schemas["Refusal"] | null;
    throw new Refused(r.status, said?.problems ?? [{ what: `the server answers ${r.status}` }], said?.file);
  }
  return r;
}

export async function ask<Answer>(method: "GET" | "PUT" | "POST" | "DELETE", path: string, body?: unknown, abort?: AbortSignal): Promise<Answer> {
  return (await send(method, path, body, abort)).json() as Promise<Answer>;
}

// stream asks what takes longer: it hears events until the answer. Aborting stops the work on the server.
export async function stream<Answer>(path: string, body: unknown, abort: AbortSignal, heard: (event: string, data: unknown) => void): Promise<Answer> {
  const r = await send("POST", path, body, abort);
  const reader = r.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  try {
    for (;;) {
      const { value, done } = await reader.read();
      if (done) break;
      rest += value;
      for (let end = rest.indexOf("\n\n"); end >= 0; end = rest.indexOf("\n\n")) {
        const lines = rest.slice(0, end).split("\n");
        rest = rest.slice(end + 2);
        const name = lines[0]!.replace("event: ", "");
        const data: unknown = JSON.parse(lines[1]!.slice("data: ".length));
        if (name === "answer") return data as Answer;
        if (name === "refusal") throw new Refused(422, (data as Schemas["Refusal"]).problems);
        heard(name, data);
      }
    }
  } catch (e) {
    if (!abort.aborted && !(e instanceof Refused)) away.value = true;
    throw e;
  }
  throw new Refused(0, [{ what: "the answer broke off", hint: "is polewright serve still running?" }]);
}

export function stopped(e: unknown): boolean {
  return e instanceof DOMException && e.name === "AbortError";
}

export function words(e: unknown): string {
  if (e instanceof Refused) return e.message;
  if (away.value) return "the bench's server does not answer";
  return e instanceof Error ? e.message : String(e);
}
