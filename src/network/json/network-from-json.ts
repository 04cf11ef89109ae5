import { DividingNetworkError, type Issue } from "../../errors";
import { checkList, checkOptions, errorFromIssues, saidBy, show } from "../../errors/internal";
import { responseFromJSON, type FrequencyResponse, type ResponseJSON } from "../../response";
import type { Network } from "../entries";
import { entryFromJSON } from "./entry-json";
import { network } from "../network";
import type { NetworkJSONOptions } from "./network-to-json";
import { readPartJSON, type JsonComplaint } from "./read-part-json";

/** How many issues an error lists. */
const most = 20;

/**
 * A network from what `networkToJSON` gave, or from data written by hand: `{ parts: [{ name, kind, …values, nodes }], responses? }`.
 * Quantities may be numbers in SI or text with their unit. All that is wrong is listed at once, each with its place: `parts[3].esr of "C1"`.
 *
 * @param json parsed JSON
 * @param options `responses`: measured impedances (Ω over Hz) that parts name and the JSON doesn't hold
 * @returns the network, checked as `network` does
 * @throws DividingNetworkError `invalid-network-json` with one issue for each thing that is wrong, `invalid-network`, `unknown-option`, `invalid-argument`
 * @example
 * ```ts
 * import { networkFromJSON } from "dividing-network";
 *
 * const json = JSON.parse('{ "parts": [{ "name": "R1", "kind": "resistor", "resistance": "4R7", "nodes": ["in", "gnd"] }] }');
 * Object.keys(networkFromJSON(json)); // ["R1"]
 * networkFromJSON({ parts: [{ name: "R1", kind: "resistor", nodes: ["in", "gnd"] }] }); // throws invalid-network-json
 * ```
 */
export function networkFromJSON(json: unknown, options: NetworkJSONOptions = {}): Network {
  const caller = "networkFromJSON";
  const { responses: given = {} } = checkOptions(caller, options, ["responses"]);
  const issues: Issue[] = [];
  const say = (message: string, hint: string, parts: readonly string[] = []): unknown =>
    issues.push(Object.freeze({ code: "invalid-network-json", message, hint, ...(parts.length === 0 ? {} : { parts }) }));
  const { parts, responses } = outline(json, say);
  const measured = measuredOf(responses, given, say);
  const first = new Map<string, number>();
  const entries = parts.flatMap((each, index) => {
    const { part, complaints } = readPartJSON(each);
    const name: unknown =
      typeof each === "object" && each !== null && Object.hasOwn(each, "name") ? (each as { readonly name?: unknown }).name : undefined;
    const named = typeof name === "string" ? [name] : [];
    const sayHere = (path: JsonComplaint["path"], message: string, hint: string): unknown =>
      say(`${placeOf(index, path, name)} ${message}`, hint, named);
    for (const { path, message, hint } of complaints) sayHere(path, message, hint);
    if (typeof name === "string") {
      const earlier = first.get(name);
      if (earlier !== undefined)
        sayHere(["name"], `stands already at parts[${earlier}]: each part must have a designator of its own`, "Rename one of the two");
      else first.set(name, index);
    }
    if (part === undefined) return [];
    const asked = "response" in part ? part.response : undefined;
    if (asked !== undefined && !measured.has(asked)) {
      const known = Array.from(measured.keys(), (key) => show(key)).join(", ");
      sayHere(
        ["response"],
        `must name a measured impedance, got ${show(asked)}`,
        known === "" ? 'Give it under "responses", in the JSON or as an option' : `There are ${known}`,
      );
      return [];
    }
    try {
      return [[part.name, entryFromJSON(part, asked === undefined ? undefined : measured.get(asked))] as const];
    } catch (error) {
      const { message, hint } = saidBy(error);
      sayHere(["response"], `can't be a driver's impedance: ${message}`, hint);
      return [];
    }
  });
  if (issues.length > 0) {
    const rest = { code: "invalid-network-json", message: `and ${issues.length - most} more`, hint: "Correct these first" };
    throw errorFromIssues("invalid-network-json", caller, issues.length > most ? [...issues.slice(0, most), rest] : issues);
  }
  return network(Object.fromEntries(entries));
}

/** `parts[3].value of "C1"`. */
function placeOf(index: number, path: JsonComplaint["path"], name: unknown): string {
  const steps = path.map((key) => (typeof key === "number" ? `[${key}]` : /^\w{1,60}$/.test(key) ? `.${key}` : `[${show(key)}]`));
  return `parts[${index}]${steps.join("")}${typeof name === "string" ? ` of ${show(name)}` : ""}`;
}

type Say = (message: string, hint: string) => unknown;

/** The list of parts and the measured impedances, with nothing beside them. */
function outline(json: unknown, say: Say): { readonly parts: readonly unknown[]; readonly responses: object } {
  const hint = 'Write { "parts": [{ "name": "R1", "kind": "resistor", "resistance": "2.2 Ω", "nodes": ["in", "gnd"] }] }';
  if (typeof json !== "object" || json === null || Array.isArray(json)) {
    say(
      `the network must be an object with "parts", got ${show(json)}`,
      typeof json === "string" ? "Text goes through JSON.parse first" : hint,
    );
    return { parts: [], responses: {} };
  }
  const unknown = Object.keys(json).filter((key) => key !== "parts" && key !== "responses");
  for (const key of unknown) say(`the network has an unknown key ${show(key)}`, 'Known keys are "parts", "responses"');
  const { parts, responses = {} } = json as { readonly parts?: unknown; readonly responses?: unknown };
  if (!Array.isArray(parts)) say(parts === undefined ? "parts is missing" : `parts must be a list [ … ], got ${show(parts)}`, hint);
  const good = typeof responses === "object" && responses !== null && !Array.isArray(responses);
  if (!good)
    say(`responses must be an object { … }, got ${show(responses)}`, 'Write { "woofer": { "frequencies": […], "re": […], "im": […] } }');
  return {
    parts: Array.isArray(parts) ? checkList<unknown>("networkFromJSON", "parts", parts, "parts") : [],
    responses: good ? responses : {},
  };
}

function measuredOf(
  responses: object,
  given: Readonly<Record<string, FrequencyResponse>>,
  say: Say,
): ReadonlyMap<string, FrequencyResponse> {
  if (typeof given !== "object" || given === null) {
    throw new DividingNetworkError(
      "invalid-argument",
      `networkFromJSON: "responses" must be an object of measured impedances by name, got ${show(given)}`,
    );
  }
  const measured = new Map(Object.entries(given));
  for (const [name, each] of Object.entries(responses) as [string, ResponseJSON][]) {
    if (measured.has(name)) say(`responses[${show(name)}] is given as an option too`, "Rename one of the two, or leave it out");
    try {
      measured.set(name, responseFromJSON(each));
    } catch (error) {
      const { message, hint } = saidBy(error);
      say(`responses[${show(name)}]: ${message}`, hint);
    }
  }
  return measured;
}
