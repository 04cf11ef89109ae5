// How an export is called with one place of its arguments spoiled: which arguments are data, which places there are, and what is a fault.
import { DividingNetworkError } from "../../src/errors";
import { Booby } from "./hostile-values";
import { subpaths } from "../support/program";

export const modules: Readonly<Record<string, Readonly<Record<string, unknown>>>> = Object.fromEntries(
  await Promise.all(
    subpaths.slice(1).map(async (floor) => [floor, (await import(`../../src/${floor}/index.ts`)) as Record<string, unknown>] as const),
  ),
);

/** The tools that checks are made of: the other arguments (who calls, the argument's name, the bounds) stand in the code that calls, and are no data. */
export const DATA: Readonly<Record<string, readonly number[]>> = {
  "errors.checkNumber": [2],
  "errors.checkOneOf": [2],
  "errors.checkOptions": [1],
  "errors.DividingNetworkError": [],
  "errors.errorFromIssues": [],
  "errors.listed": [],
  "errors.shown": [],
  "quantity.inSi": [2],
  "physics.checkAir": [1],
  "physics.checkPoint": [2],
  "physics.checkPoints": [2],
  "response.checkResponse": [2],
  "response.checkedGrid": [1],
  // Takes arrays over as they are, as its docstring says: for those that the library has just computed.
  "response.freezeResponse": [],
  // Throws again what isn't the library's own error: that is what it is for.
  "errors.saidBy": [],
  // Stands in inner loops over samples that have been checked, and looks at nothing.
  "numeric.log10Modulus": [],
};
/** These hand on what they are given, a NaN too. */
export const HANDED_ON = ["errors.checkOptions", "errors.owned"];
/** Not held to this yet. Take out what has been put right. */
export const OPEN: readonly string[] = [];

export type Path = readonly (string | number)[];

/** The places that are spoiled: each argument, and each property of what isn't frozen; of a list the first only. */
export function pathsOf(value: unknown, path: Path = []): Path[] {
  if (
    typeof value !== "object"
    || value === null
    || ArrayBuffer.isView(value)
    || (path.length > 0 && Object.isFrozen(value))
    || path.length > 5
  )
    return [path];
  const keys: (string | number)[] = Array.isArray(value)
    ? (path.length === 0 ? [...value.keys()] : [0]).filter((key) => key < value.length)
    : Object.keys(value);
  return [
    ...(path.length === 0 ? [] : [path]),
    ...keys.flatMap((key) => pathsOf((value as Record<string | number, unknown>)[key], [...path, key])),
  ];
}

export function replaced(value: unknown, [key, ...rest]: Path, by: unknown): unknown {
  if (key === undefined) return by;
  const inner = replaced((value as Record<string | number, unknown>)[key], rest, by);
  if (Array.isArray(value)) return value.map((each: unknown, index) => (index === key ? inner : each));
  return { ...(value as object), [key]: inner };
}

/** Where a NaN stands in a result. */
function notANumber(value: unknown, path = "", seen = new Set<unknown>()): string | undefined {
  if (typeof value === "number") return Number.isNaN(value) ? path || "the result" : undefined;
  if (typeof value !== "object" || value === null || seen.has(value)) return undefined;
  seen.add(value);
  if (value instanceof Float64Array) {
    const at = value.findIndex(Number.isNaN);
    return at < 0 ? undefined : `${path}[${at}]`;
  }
  if (ArrayBuffer.isView(value)) return undefined;
  for (const key of Object.keys(value)) {
    const found = notANumber((value as Record<string, unknown>)[key], `${path}.${key}`, seen);
    if (found !== undefined) return found;
  }
  return undefined;
}

export async function faultOf(
  handedOn: boolean,
  call: (...args: never[]) => unknown,
  args: readonly unknown[],
): Promise<string | undefined> {
  try {
    const result = call(...(args as never[]));
    const settled = result instanceof Promise ? ((await result) as unknown) : result;
    const place = handedOn ? undefined : notANumber(settled);
    return place === undefined ? undefined : `NaN in ${place}`;
  } catch (error) {
    if (error instanceof DividingNetworkError || error instanceof Booby) return undefined;
    return String(error);
  }
}

export const callable = (value: unknown): ((...args: never[]) => unknown) =>
  /^class /.test(Function.prototype.toString.call(value))
    ? (...args) => new (value as new (...args: never[]) => unknown)(...args)
    : (value as (...args: never[]) => unknown);
