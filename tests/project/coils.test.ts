// Coils of the proposed network with their windings and their board, in a project file.
import { describe, expect, it } from "vitest";
import { inductive, resistive } from "dividing-network/parts";
import { parseProject, projectToJSON, writeProject } from "dividing-network/project";
import { buildSheet } from "dividing-network/report";
import { load, projectData } from "../support/fixture";

const winding = { turns: 160, meanRadius: "22 mm", length: "20 mm", depth: 0.014 };
const withCoils = (coils: unknown) => {
  const data = projectData();
  const parts = data.networks.proposed.parts as { name: string; kind: string; nodes?: string[] }[];
  const coil = parts.find(({ kind }) => kind === "inductor")!;
  return { ...data, networks: { ...data.networks, proposed: { parts: [...parts, { ...coil, name: "L9", nodes: ["in", "gnd"] }] } }, coils };
};
const whole = { board: { width: "20 cm", depth: 0.12 }, windings: { L1: winding, L9: winding } };

describe("coils to be placed, in a project file", () => {
  it("are read in metres, and come back from their own text", () => {
    const project = parseProject(JSON.stringify(withCoils(whole)));
    expect(project.coils).toEqual({
      board: { width: 0.2, depth: 0.12 },
      windings: {
        L1: { turns: 160, meanRadius: 0.022, length: 0.02, depth: 0.014 },
        L9: { turns: 160, meanRadius: 0.022, length: 0.02, depth: 0.014 },
      },
    });
    expect(projectToJSON(project)["coils"]).toEqual(project.coils);
    expect(parseProject(writeProject(project))).toEqual(project);
  });

  it("are placed by the build sheet, which says where a winding doesn't make its coil", async () => {
    const { proposed, project } = await load(withCoils(whole));
    const { coils } = buildSheet(proposed, { coils: project.coils });
    expect(coils.places).toHaveLength(2);
    const words = coils.sentences.join(" ");
    expect(words).toMatch(/L1: its middle .*(flat|on edge)/);
    expect(words).toMatch(/seen from above: \d+ mm/);
    // Wheeler's approximation for many layers, which is good to a few percent: 31.6 n² a² / (6 a + 9 b + 10 c) µH, lengths in metres.
    const makes = Number(/The winding stated for L1 makes ([\d.]+) mH/.exec(words)![1]);
    expect(makes).toBeCloseTo((1e-3 * 31.6 * 160 ** 2 * 0.022 ** 2) / (6 * 0.022 + 9 * 0.02 + 10 * 0.014), 1);
  });

  it("may be coils of a custom part", () => {
    const data = withCoils({ ...whole, windings: { L1: winding, X1: winding } });
    const law = { law: "series", of: [inductive("1 mH"), resistive(0.3, "dcr")] };
    const own = (name: string, of: object) => ({
      name,
      kind: "custom",
      title: "Cored coil",
      branches: [{ from: 0, to: 1, law: of }],
      nodes: ["in", "gnd"],
    });
    const withOwn = (of: object) => ({
      ...data,
      networks: { ...data.networks, proposed: { parts: [...data.networks.proposed.parts, own("X1", of)] } },
    });
    expect(Object.keys(parseProject(JSON.stringify(withOwn(law))).coils!.windings)).toEqual(["L1", "X1"]);
    expect(() => parseProject(JSON.stringify(withOwn(resistive(2))))).toThrowError(/coils\.windings\.X1.*uncoupled coil/);
  });

  it("are refused by the place of what is wrong", () => {
    const refused = (coils: unknown, place: RegExp) =>
      expect(() => parseProject(JSON.stringify(withCoils(coils)))).toThrowError(
        expect.objectContaining({ name: "DividingNetworkError", message: expect.stringMatching(place) as unknown }),
      );
    refused({ ...whole, windings: { L1: winding } }, /coils\.windings.*2 to 8/);
    refused({ ...whole, windings: { L1: winding, C1: winding } }, /coils\.windings\.C1.*uncoupled coil/);
    refused({ ...whole, windings: { L1: winding, L9: { ...winding, depth: "50 mm" } } }, /coils\.windings\.L9.*mean radius/);
    refused({ ...whole, windings: { L1: winding, L9: { ...winding, turns: 0 } } }, /turns/);
    refused({ windings: whole.windings }, /board/);
    refused({ ...whole, gap: 1 }, /gap/);
  });
});
