import type { Finding } from "./check-drivers";
import type { JsonPath } from "./json-text";
import type { Project } from "./project-types";

/** Whether what scatters is there: drivers of the project, parts of one of its networks. */
export function checkSpread({ spread, drivers, networks }: Project): readonly Finding[] {
  if (spread === undefined) return [];
  const own = drivers.map(({ name }) => name);
  const known = new Set([...own, ...Object.values(networks).flatMap(({ parts }) => parts.map(({ name }) => name))]);
  const listed = (names: readonly string[], path: JsonPath) =>
    names.flatMap((name, index) =>
      known.has(name)
        ? []
        : [
            {
              path: [...path, index],
              message: `must name a part or a driver of the project, got ${JSON.stringify(name)}`,
              hint: `They are ${[...known].map((each) => JSON.stringify(each)).join(", ")}`,
            },
          ],
    );
  return [
    ...Object.keys(spread.drivers ?? {})
      .filter((name) => !own.includes(name))
      .map((name) => ({
        path: ["spread", "drivers", name],
        message: "must be a driver of the project",
        hint: `The drivers are ${own.map((each) => JSON.stringify(each)).join(", ")}`,
      })),
    ...(spread.lots ?? []).flatMap((lot, index) => listed(lot, ["spread", "lots", index])),
    ...listed(spread.matched ?? [], ["spread", "matched"]),
  ];
}
