import type { Entries, Entry } from "../network";

/** The same network with parts and nodes called by other names. */
export function renamed(entries: Entries, names: ReadonlyMap<string, string>): Entries {
  return Object.freeze(
    Object.fromEntries(
      Object.entries(entries).map(([name, [part, ...nodes]]) => [
        names.get(name)!,
        Object.freeze([part, ...nodes.map((node) => names.get(node)!)]) as unknown as Entry,
      ]),
    ),
  );
}
