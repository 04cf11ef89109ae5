// Tests src/project/: project-robust.ts, redesign-schema.ts
// What the command's redesign does, in a project file: read, written back to the same, and taken by `redesign` with what the project says of tolerances.
import { describe, expect, it } from "vitest";
import { redesign } from "dividing-network/design";
import { parseProject, writeProject } from "dividing-network/project";
import { load, projectData } from "../support/fixture";

const whole = { mostPieces: 1, robust: { by: "yield", largestLossDb: 6, samples: 4, seed: 9 } };
const data = (more: object) => ({ ...projectData(), ...more });

describe("a redesign, in a project file", () => {
  it("is read with every key, and comes back from its own text", () => {
    const project = parseProject(JSON.stringify(data({ redesign: whole })));
    expect(project.redesign).toEqual(whole);
    expect(parseProject(writeProject(project))).toEqual(project);
    expect(parseProject(JSON.stringify(data({}))).redesign).toBeUndefined();
  });

  it("is robust against what the project says of its drivers and of parts without names", async () => {
    const spread = {
      drivers: { tweeter: { levelDb: 0.5, resonance: "8 %" } },
      byKind: { capacitor: "10 %" },
      unstated: "exact",
      distribution: "normal",
      lots: [["woofer", "tweeter"], ["L1"], ["C1"]],
      matched: ["C1"],
      samples: 20,
      seed: 3,
      largestLossDb: 5,
    };
    expect((await load(data({}))).robust).toEqual({});
    expect((await load(data({ spread }))).robust).toEqual({
      drivers: { tweeter: { levelDb: 0.5, resonance: 0.08 } },
      byKind: { capacitor: 0.1 },
      unstated: "exact",
      distribution: "normal",
      lots: [["woofer", "tweeter"]],
      largestLossDb: 5,
    });
    // What a redesign says of its own goes before.
    const { robust, found, goal } = await load(data({ spread, redesign: whole }));
    expect(robust).toMatchObject({ by: "yield", largestLossDb: 6, samples: 4, seed: 9, byKind: { capacitor: 0.1 } });
    const asked = { goal: { ...goal, limits: "stated" }, maxParts: 2, series: "E3" } as const;
    const { front } = await redesign(found, { ...asked, robust });
    expect(front[0]!.robust).toMatchObject({ samples: 4, says: expect.stringContaining("within 6 dB and all limits") as unknown });
  });

  it("leaves out drivers that the network as found leaves out, and a loss of nothing, which none would keep", async () => {
    const changed = data({
      spread: { drivers: { tweeter: { levelDb: 0.5 }, woofer: { levelDb: 0 } }, lots: [["woofer", "tweeter"]], largestLossDb: 0 },
    });
    changed.networks.found.parts = changed.networks.found.parts.filter(({ name }: { name: string }) => name !== "tweeter" && name !== "C1");
    changed.measurements = changed.measurements.filter(({ of }: { of: string }) => of !== "loudspeaker");
    expect((await load(changed)).robust).toEqual({ drivers: { woofer: { levelDb: 0 } } });
  });

  it("is refused by the place of what is wrong", () => {
    const refused = (redesign: unknown, place: RegExp, more: object = {}) =>
      expect(() => parseProject(JSON.stringify(data({ redesign, ...more })))).toThrowError(
        expect.objectContaining({ name: "DividingNetworkError", message: expect.stringMatching(place) as unknown }),
      );
    refused({ mostPieces: 2 }, /redesign\.mostPieces.*must go with a stock/s);
    refused({ mostPieces: 3 }, /redesign\.mostPieces/);
    refused({ pieces: 1 }, /pieces/);
    refused({ robust: true }, /redesign\.robust/);
    refused({ robust: { by: "luck" } }, /redesign\.robust\.by/);
    refused({ robust: { by: "yield" } }, /redesign\.robust\.by.*largestLossDb/s);
    refused({ robust: { by: "yield" } }, /redesign\.robust\.by.*largestLossDb/s, { spread: { largestLossDb: 0 } });
    refused({ robust: { samples: 1 } }, /redesign\.robust\.samples/);
    refused({ robust: { samples: 5000 } }, /redesign\.robust\.samples/);
    refused({ robust: { seed: -1 } }, /redesign\.robust\.seed/);
    refused({ robust: { largestLossDb: 0 } }, /redesign\.robust\.largestLossDb/);
    expect(parseProject(JSON.stringify(data({ redesign: { mostPieces: 2 }, stock: "drawer.csv" }))).redesign).toEqual({ mostPieces: 2 });
    const said = data({ redesign: { robust: { by: "yield" } }, spread: { largestLossDb: 2 } });
    expect(parseProject(JSON.stringify(said)).redesign?.robust).toEqual({ by: "yield" });
  });
});
