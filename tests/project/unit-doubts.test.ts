// Tests src/project/: unit-doubts.ts
// One small project, its files written in another unit than the one they are read in, one at a time. Levels by hand: 0.63 Pa at 1 m for 2.83 V are 90 dB.
import { readProject } from "dividing-network/project";
import { describe, expect, it } from "vitest";

const grid = Array.from({ length: 100 }, (_, i) => 20 * 1000 ** (i / 99));
/** A resonance at 60 Hz: 6 Ω and 24 Ω on top of it. */
const impedance = (f: number) => {
  const x = 3 * (f / 60 - 60 / f);
  const [re, im] = [6 + 24 / (1 + x * x), (-24 * x) / (1 + x * x)];
  return [Math.hypot(re, im), Math.atan2(im, re)] as const;
};
interface Written {
  readonly hertz?: number;
  readonly angle?: number;
  readonly level?: number;
  readonly distance?: number | string;
  readonly voltage?: number;
  readonly x?: number;
  readonly flat?: boolean;
}
const DEGREES = 180 / Math.PI;

async function doubts({ hertz = 1, angle = DEGREES, level = 90, distance = 1, voltage = 2.83, x = 0, flat = false }: Written = {}) {
  const z = (f: number) => (flat ? ([8, 0] as const) : impedance(f));
  const files: Record<string, string> = {
    "z.txt": grid.map((f) => `${f * hertz} ${z(f)[0]} ${z(f)[1] * angle}`).join("\n"),
    "p.txt": grid.map((f) => `${f} ${level - 3 * Math.abs(Math.log10(f / 1000))} 0`).join("\n"),
  };
  files["q.txt"] = files["p.txt"]!;
  const parts = [{ name: "cone", kind: "driver", nodes: ["in", "gnd"] }];
  const text = JSON.stringify({
    version: 1, name: "a", ratedImpedance: 8, air: { temperature: 20 }, amplifier: { outputResistance: 0.05, cableResistance: 0.1, cableInductance: 2e-6 },
    drivers: [{ name: "cone", role: "woofer", position: { x, y: 0, z: 0 }, impedance: { file: "z.txt", columns: "ohm-degrees" } }],
    measurements: [{
      of: "cone", quantity: "pressure", columns: "db-degrees", drive: { voltage, at: "terminals" }, distance,
      rotationCentre: { x: 0, y: 0, z: 0 }, timeZero: { common: true }, gate: { length: "4 ms" }, trusted: { from: 300, to: 18000 }, smoothing: "none",
      files: [{ azimuth: 0, elevation: 0, file: "p.txt" }, { azimuth: 10, elevation: 0, file: "q.txt" }],
    }],
    networks: { found: { parts }, proposed: { parts } },
  }); // prettier-ignore
  const { notes } = await readProject(text, { file: "project.json", readFile: async (path) => files[path]! });
  return notes.filter(({ code }) => code === "unit-doubted").map(({ file, message }) => `${file ?? ""}|${message}`);
}

describe("numbers in another unit than the one they are read in", () => {
  it("aren't doubted where they stand in theirs", async () => {
    for (const written of [
      {},
      { level: 76 },
      { level: 115 },
      { distance: 3 },
      { distance: "1000 mm" },
      { flat: true },
      { voltage: 0.1, level: 62 },
      { x: 2 },
    ])
      expect(await doubts(written), JSON.stringify(written)).toEqual([]);
  });

  it("are named with their file: an impedance's phase in radians, and kHz", async () => {
    expect(await doubts({ angle: 1 })).toEqual([
      "z.txt|no phase is beyond 2°, though |Z| moves by more than a factor of 2: the phase may stand in radians, or is missing",
    ]);
    expect(await doubts({ hertz: 1e-3 })).toEqual(["z.txt|the highest frequency is 20 Hz, of cone: kHz may stand there"]);
  });

  it("are named once for a measurement: levels re 1 Pa, a drive or distance of nothing like it", async () => {
    expect(await doubts({ level: 90 - 94 })).toEqual([
      "p.txt|cone would give −4 dB at 1 m for 2.83 V where it is loudest, and loudspeakers give 75 to 115 dB (with 1 other file of that measurement)",
    ]);
    expect((await doubts({ voltage: 2830 }))[0]).toMatch(/^p\.txt\|cone would give 30 dB/);
    expect((await doubts({ voltage: 0.00283 }))[0]).toMatch(/^p\.txt\|cone would give 150 dB/);
  });

  it("are named where millimetres stand for metres", async () => {
    expect(await doubts({ distance: 1000 })).toEqual([
      "|measurements[0] (cone) was taken at a distance of 1 km: millimetres may stand there",
    ]);
    expect(await doubts({ x: -120 })).toEqual(["|cone stands 120 m off the centre: millimetres may stand there"]);
  });
});
