import type { Complaint } from "./fields";
import type { JsonPath } from "./json-text";
import type { Project } from "./project-types";
import { isDriver } from "./subjects";

/** A complaint with its place in the project. */
export interface Finding extends Complaint {
  readonly path: JsonPath;
}

/** What can be wrong with the drivers among themselves: names given twice, measurements shared with a driver that has none. */
export function checkDrivers({ drivers }: Project): Finding[] {
  const findings: Finding[] = [];
  const first = new Map<string, number>();
  const names = drivers.map(({ name }) => JSON.stringify(name)).join(", ");
  drivers.forEach(({ name, sameAs }, index) => {
    const say = (key: string, message: string, hint: string) => findings.push({ path: ["drivers", index, key], message, hint });
    const earlier = first.get(name);
    if (earlier !== undefined)
      say(
        "name",
        `stands already at drivers[${earlier}]: each driver must have a name of its own`,
        "Rename one of the two, here and in the networks",
      );
    else first.set(name, index);
    if (!isDriver(name))
      say(
        "name",
        `must be another name: ${JSON.stringify(name)} means ${{ loudspeaker: "the whole", twin: "the other one of the pair", partner: "what plays beside" }[name as "twin"]} in "of"`,
        "Name the driver by what it does",
      );
    if (sameAs === undefined) return;
    const other = drivers.find((driver) => driver.name === sameAs);
    if (other === undefined) say("sameAs", `must name a driver of the project, got ${JSON.stringify(sameAs)}`, `The drivers are ${names}`);
    else if (other.sameAs !== undefined) {
      say(
        "sameAs",
        `must name a driver that was measured, got ${JSON.stringify(sameAs)}, which itself shares the measurements of ${JSON.stringify(other.sameAs)}`,
        "Name the driver whose files there are",
      );
    }
  });
  return findings;
}
