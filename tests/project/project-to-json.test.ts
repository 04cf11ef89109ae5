// Tests src/project/: project-schema.ts
import { readFileSync } from "node:fs";
import { join } from "node:path";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseProject, projectFromJSON, projectSchema, projectToJSON, writeProject, type Project } from "dividing-network/project";
import { projectData } from "../support/fixture";

const example = readFileSync(join(import.meta.dirname, "../../examples/desk-monitor/project.json"), "utf8");

describe("parseProject", () => {
  it("gives quantities in SI, whether they were numbers or text", () => {
    const project = parseProject(example);
    expect(project.amplifier).toEqual({ outputResistance: 0.05, cableResistance: 0.08, cableInductance: 2e-6 });
    expect(project.networks.found.parts[0]).toEqual({ name: "L1", kind: "inductor", inductance: 0.00012, dcr: 0.6, nodes: ["in", "w"] });
    expect(project.measurements[0]).toMatchObject({ gate: { length: 0.0049 } });
  });

  it("reads every kind of part", () => {
    const data = projectData();
    data.networks.found.parts.push(
      { name: "R1", kind: "resistor", resistance: "2R2", nodes: ["in", "a"] },
      { name: "C2", kind: "capacitor", capacitance: 1e-6, dissipationFactor: 0.01, nodes: ["a", "gnd"] },
      { name: "L2", kind: "inductor", inductance: 0.001, nodes: ["a", "gnd"] },
      { name: "K1", kind: "coupling", k: -0.1, coils: ["L1", "L2"] },
      { name: "P1", kind: "l-pad", attenuationDb: 3, load: "8 Ω", nodes: ["a", "b", "gnd"] },
      { name: "R2", kind: "resistor", resistance: 8, nodes: ["b", "gnd"] },
      { name: "T1", kind: "transformer", ratio: -2, nodes: ["a", "gnd", "c", "gnd"] },
      {
        name: "T2",
        kind: "transformer",
        primaryInductance: "10 mH",
        secondaryInductance: "2 mH",
        k: 0.99,
        primaryResistance: "1 Ω",
        nodes: ["c", "gnd", "d", "gnd"],
      },
      { name: "R3", kind: "resistor", resistance: 8, nodes: ["d", "gnd"] },
    );
    const { parts } = parseProject(JSON.stringify(data)).networks.found;
    expect(parts.map(({ kind }) => kind)).toEqual([
      "inductor",
      "capacitor",
      "driver",
      "driver",
      "resistor",
      "capacitor",
      "inductor",
      "coupling",
      "l-pad",
      "resistor",
      "transformer",
      "transformer",
      "resistor",
    ]);
    expect(parts[4]).toMatchObject({ resistance: 2.2 });
    expect(parts[11]).toMatchObject({ secondaryInductance: 0.002 });
  });

  it("accepts a byte-order mark, and freezes what it gives to the depth", () => {
    const project = parseProject(`\ufeff${example}`);
    const unfrozen = (value: unknown): boolean =>
      typeof value === "object" && value !== null && (!Object.isFrozen(value) || Object.values(value).some(unfrozen));
    expect(unfrozen(project)).toBe(false);
  });

  it("gives the same schema each time, which zod's own parse understands", () => {
    expect(projectSchema()).toBe(projectSchema());
    expect(projectSchema().parse(JSON.parse(example))).toEqual(parseProject(example));
  });
});

describe("writing a project", () => {
  it("gives text that reads back to the same project", () => {
    const project = parseProject(example);
    expect(parseProject(writeProject(project))).toEqual(project);
    expect(writeProject(parseProject(writeProject(project)))).toBe(writeProject(project));
  });

  it("gives data that read back to the same project, without text between", () => {
    for (const data of [JSON.parse(example) as unknown, projectData() as unknown]) {
      const project = projectFromJSON(data);
      expect(projectFromJSON(projectToJSON(project))).toEqual(project);
      expect(projectFromJSON(project)).toEqual(project);
      expect(Object.isFrozen(project.networks.found.parts[0])).toBe(true);
    }
    expect(projectFromJSON(JSON.parse(example))).toEqual(parseProject(example));
    expect(() => projectFromJSON({ version: 2 })).toThrow(/projectFromJSON: .*version must be 1/s);
  });

  it("writes values as people do, in the digits that they have", () => {
    const { networks } = projectToJSON(parseProject(example)) as unknown as { networks: { found: { parts: unknown[] } } };
    expect(networks.found.parts.slice(0, 2)).toEqual([
      { name: "L1", kind: "inductor", inductance: "0.12 mH", dcr: "0.6 Ω", nodes: ["in", "w"] },
      { name: "C1", kind: "capacitor", capacitance: "22 µF", esr: "0.5 Ω", nodes: ["in", "t"] },
    ]);
  });

  it("loses no bit of any value", () => {
    const value = fc.double({ min: 1e-25, max: 1e25, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.double({ min: -1, max: 1, noNaN: true }), (inductance, capacitance, delay) => {
        const data = projectData();
        Object.assign(data.networks.found.parts[0], { inductance });
        Object.assign(data.networks.found.parts[1], { capacitance });
        data.measurements[0].timeZero = { delay };
        const project = parseProject(JSON.stringify(data));
        const again = parseProject(writeProject(project));
        expect(again.networks.found.parts).toEqual(project.networks.found.parts);
        expect(project.networks.found.parts[0]).toMatchObject({ inductance });
        expect(again.measurements[0]).toMatchObject({ timeZero: { delay: delay === 0 ? 0 : delay } });
      }),
    );
  });

  it("refuses what could not be read back", () => {
    const project = parseProject(example);
    const broken = { ...project, drivers: [] } as Project;
    expect(() => writeProject(broken)).toThrow(/drivers must have at least 1 entry/);
    expect(() => projectToJSON(undefined as unknown as Project)).toThrow(/the project/);
  });
});
