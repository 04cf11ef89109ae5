import type { Finding } from "./check-drivers";
import type { Project } from "./project-types";

/** How many coils are placed at once. */
const [FEWEST, MOST] = [2, 8];

/** Whether what is to be placed is there: uncoupled coils of the proposed network, as many as can be placed at once. */
export function checkCoils({ coils, networks }: Project): readonly Finding[] {
  if (coils === undefined) return [];
  const { parts } = networks.proposed;
  const coupled = new Set(parts.flatMap((part) => ("coils" in part ? part.coils : [])));
  const known = parts.filter((part) => isWound(part) && !coupled.has(part.name)).map(({ name }) => name);
  const given = Object.keys(coils.windings);
  return [
    ...(given.length >= FEWEST && given.length <= MOST
      ? []
      : [
          {
            path: ["coils", "windings"],
            message: `must have ${FEWEST} to ${MOST} coils, got ${given.length}`,
            hint:
              given.length < FEWEST ? "One coil alone needs no placing: leave the key out" : "Leave out those that are far from all others",
          },
        ]),
    ...given
      .filter((name) => !known.includes(name))
      .map((name) => ({
        path: ["coils", "windings", name],
        message: "must be an uncoupled coil of the proposed network",
        hint: `They are ${known.map((each) => JSON.stringify(each)).join(", ")}`,
      })),
  ];
}

/** A coil, or a custom part in which there is one. */
function isWound(part: Project["networks"]["proposed"]["parts"][number]): boolean {
  return "inductance" in part || ("branches" in part && holdsWinding(part.branches));
}

/** Whether an inductance stands anywhere in a law as plain data. */
function holdsWinding(data: unknown): boolean {
  if (typeof data !== "object" || data === null) return false;
  return ("law" in data && (data.law === "inductance" || data.law === "fractional")) || Object.values(data).some(holdsWinding);
}
