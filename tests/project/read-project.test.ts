// Tests src/project/: file-plan.ts, measured-pressure.ts, measurement-marks.ts, network-of.ts, project-notes.ts, read-files.ts
// Tests src/project/: read-stock.ts, subjects.ts, trouble.ts
import { readFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { predict, pressureAtPlace } from "dividing-network/loudspeaker";
import { readProject } from "dividing-network/project";
import { frequencyResponse, valueAt, type FrequencyResponse } from "dividing-network/response";
import {
  byHand,
  columns,
  frequencies,
  load,
  plus,
  projectData,
  projectFiles,
  reIm,
  times,
  tweeterPressure,
  turned,
  wooferPressure,
  type Complexish,
} from "../support/fixture";

const near = (response: FrequencyResponse, expected: (f: number) => Complexish, digits = 9): void => {
  for (let i = 0; i < response.frequencies.length; i++) {
    const { re, im } = expected(response.frequencies[i]!);
    expect(response.re[i]!, `re at ${response.frequencies[i]} Hz`).toBeCloseTo(re, digits);
    expect(response.im[i]!, `im at ${response.frequencies[i]} Hz`).toBeCloseTo(im, digits);
  }
};
const axis = { distance: 1, azimuth: 0, elevation: 0 };

describe("readProject", () => {
  it("gives pressures per volt at the terminals and the sum that hand calculation gives, cable and amplifier included", async () => {
    const { found, proposed } = await load(projectData());
    near(found.drivers[0]!.pressures[0]!.response, wooferPressure);
    const { sum, branches } = pressureAtPlace(predict(found, { voltage: 3 }), axis);
    near(sum, (f) =>
      times({ re: 3, im: 0 }, plus(times(byHand(f).woofer, wooferPressure(f)), times(byHand(f).tweeter, tweeterPressure(f)))),
    );
    near(branches["tweeter"]!, (f) => times({ re: 3, im: 0 }, times(byHand(f).tweeter, tweeterPressure(f))));
    near(pressureAtPlace(predict(proposed, { voltage: 3 }), axis).sum, (f) => ({
      re: sum.re[frequencies.indexOf(f)]!,
      im: sum.im[frequencies.indexOf(f)]!,
    }));
  });

  it("divides what was driven at the input by V(driver)/V(source) of the network as found, reversed polarity included", async () => {
    const data = projectData();
    data.measurements[1].drive = { voltage: 2, at: "input" };
    const files = {
      ...projectFiles(),
      "data/tweeter.txt": reIm((f) => times({ re: 2, im: 0 }, times(byHand(f).tweeter, tweeterPressure(f)))),
    };
    near((await load(data, files)).found.drivers[1]!.pressures[0]!.response, tweeterPressure);
  });

  it("reads levels as dB re 20 µPa", async () => {
    const data = projectData();
    data.measurements[0].columns = "db-degrees";
    // 94 dB are 1.00238 Pa by the definition of the level.
    const files = { ...projectFiles(), "data/woofer.txt": columns(() => [94, -90]) };
    near((await load(data, files)).found.drivers[0]!.pressures[0]!.response, () => ({ re: 0, im: (-20e-6 * 10 ** (94 / 20)) / 2 }));
  });

  it("adds a stated delay, of the measurement or of the file", async () => {
    const data = projectData();
    data.measurements[0].timeZero = { delay: "0.1 ms" };
    data.measurements[1].timeZero = { delay: "0.1 ms" };
    data.measurements[1].files[0].delay = 0.0002;
    const { found } = await load(data);
    near(found.drivers[0]!.pressures[0]!.response, (f) => times(wooferPressure(f), turned(1, -360 * f * 0.0001)));
    near(found.drivers[1]!.pressures[0]!.response, (f) => times(tweeterPressure(f), turned(1, -360 * f * 0.0002)));
  });

  it("marks the gate's limits, the ends beyond the trusted band, and smoothing", async () => {
    const data = projectData();
    data.measurements[0].gate = { length: "4 ms" };
    data.measurements[0].trusted = { from: 300, to: 10000 };
    data.measurements[0].smoothing = "1/24 octave";
    const { found } = await load(data);
    const { marks } = found.drivers[0]!.pressures[0]!.response;
    expect(marks?.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["no-data", undefined, 250],
      ["coarse", 250, 750],
      ["coarse", 10000, undefined],
      ["smoothed", undefined, undefined],
    ]);
    expect(marks![0]!.note).toBe("the gate of T = 4 ms at 1 m leaves nothing below 1/T");
    expect(found.drivers[1]!.pressures[0]!.response.marks).toMatchObject([{ kind: "coarse", from: 20000 }]);
    // The default grid of a prediction begins where there are data.
    expect(predict(found).frequencies[0]).toBeGreaterThanOrEqual(250);
  });

  it("computes a minimum phase where the files hold none, adds the stated delay and marks a model", async () => {
    const data = projectData();
    data.measurements[0].columns = "db";
    data.measurements[0].minimumPhase = true;
    data.measurements[0].slopes = { low: 0, high: 6 };
    data.measurements[0].timeZero = { delay: "2.9 ms" };
    // First-order low-pass at 1 kHz: its phase is −atan(f/1 kHz) in closed form.
    const files = { ...projectFiles(), "data/woofer.txt": columns((f) => [80 - 10 * Math.log10(1 + (f / 1000) ** 2)]) };
    const { response } = (await load(data, files)).found.drivers[0]!.pressures[0]!;
    for (const f of [400, 1000, 4000]) {
      const index = frequencies.findIndex((each) => each >= f);
      const at = frequencies[index]!;
      const flightless = valueAt(frequencyResponse([at], [turned(1, 360 * at * 0.0029).re], [turned(1, 360 * at * 0.0029).im]), at).mul(
        response.re[index]!,
        response.im[index]!,
      );
      expect((flightless.arg() * 180) / Math.PI).toBeCloseTo((-Math.atan(at / 1000) * 180) / Math.PI, 1);
    }
    const notes = response.marks!.filter(({ kind }) => kind === "model").map(({ note }) => note);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatch(/minimum phase/);
  });

  it("lets a driver share another's measurements, from where that one stood", async () => {
    const data = projectData();
    data.drivers.push({ name: "woofer2", sameAs: "woofer", position: { x: 0, y: 0, z: -0.25 } });
    for (const which of ["found", "proposed"]) data.networks[which].parts.push({ name: "woofer2", kind: "driver", nodes: ["w", "gnd"] });
    const { found } = await load(data);
    expect(found.drivers[2]).toMatchObject({
      name: "woofer2",
      part: "woofer2",
      role: "woofer",
      position: [0, 0, -0.25],
      measuredAt: [0, 0, -0.1],
    });
    expect(found.drivers[2]!.pressures[0]).toBe(found.drivers[0]!.pressures[0]);
    expect(predict(found).sweep.impedance.re[0]).toBeLessThan(4);
  });

  it("leaves a driver out of the loudspeaker whose network leaves it out", async () => {
    const data = projectData();
    data.networks.proposed.parts = data.networks.proposed.parts.filter(
      (part: { name: string }) => part.name !== "tweeter" && part.name !== "C1",
    );
    const { found, proposed } = await load(data);
    expect([found.drivers.length, proposed.drivers.map(({ name }) => name)]).toEqual([2, ["woofer"]]);
  });

  it("gives what was measured of the whole, in Pa and Ω", async () => {
    const data = projectData();
    data.measurements.push(
      {
        ...data.measurements[0],
        of: "loudspeaker",
        drive: { voltage: 2.83, at: "input" },
        timeZero: { common: false },
        files: [{ azimuth: 0, elevation: 0, file: "./data/../data/whole.txt" }],
      },
      { of: "loudspeaker", quantity: "impedance", columns: "re-im", files: [{ file: "data/whole-z.txt" }] },
    );
    const files = { ...projectFiles(), "data/whole.txt": reIm(wooferPressure), "data/whole-z.txt": reIm((f) => byHand(f).impedance) };
    const { measured, found, files: read, notes } = await load(data, files);
    expect(measured.pressures).toMatchObject([
      { distance: 1, azimuth: 0, elevation: 0, voltage: 2.83, timed: false, label: "data/whole.txt", rotationCentre: [0, 0, 0] },
    ]);
    near(measured.pressures[0]!.response, wooferPressure);
    // The measured impedance is that of the network with its drivers.
    near(predict(found).sweep.impedance, (f) => valueAt(measured.impedance!, f));
    expect(read.map(({ path, of, quantity, points }) => [path, of, quantity, points])).toEqual([
      ["data/woofer-z.txt", "woofer", "impedance", 121],
      ["data/tweeter-z.txt", "tweeter", "impedance", 121],
      ["data/woofer.txt", "woofer", "pressure", 121],
      ["data/tweeter.txt", "tweeter", "pressure", 121],
      ["data/whole.txt", "loudspeaker", "pressure", 121],
      ["data/whole-z.txt", "loudspeaker", "impedance", 121],
    ]);
    expect(notes.map(({ code }) => code)).toContain("no-common-time-zero");
  });

  it("asks for each path once, without detours", async () => {
    const data = projectData();
    data.drivers[1].impedance.file = "./data/x/..//woofer-z.txt";
    const asked: string[] = [];
    const files = projectFiles();
    const { notes } = await readProject(JSON.stringify(data), {
      readFile: async (path) => {
        asked.push(path);
        return files[path]!;
      },
    });
    expect(asked.sort()).toEqual(["data/tweeter.txt", "data/woofer-z.txt", "data/woofer.txt"]);
    expect(notes.map(({ code }) => code)).toEqual(["file-used-twice"]);
  });

  it("notes what it took by default and what is suspicious", async () => {
    const data = projectData();
    delete data.air;
    data.networks.found.parts.push({ name: "R9", kind: "resistor", resistance: 10, nodes: ["t", "nowhere"] });
    data.goal = { band: { from: 100, to: 20000 } };
    data.measurements[0].trusted.from = 200;
    const { notes, found } = await load(data);
    expect(notes.map(({ code }) => code)).toEqual(["air-not-stated", "beyond-trusted-band", "open-end"]);
    expect(found.air).toEqual({ temperature: 20 });
  });

  it("notes a driver that one of the networks does without", async () => {
    const data = projectData();
    data.networks.proposed.parts = data.networks.proposed.parts.filter(({ name }: { name: string }) => name !== "tweeter");
    const { notes } = await load(data);
    expect(notes.filter(({ code }) => code === "driver-left-out")).toMatchObject([
      { message: "networks.proposed leaves out tweeter: it is judged without", parts: ["tweeter"] },
    ]);
    expect((await load(projectData())).notes.map(({ code }) => code)).not.toContain("driver-left-out");
  });

  it("takes the air's humidity and pressure where they are stated, and refuses what isn't air's state", async () => {
    const data = projectData();
    data.air = { temperature: "25 °C", humidity: 60, pressure: "98 kPa" };
    expect((await load(data)).found.air).toEqual({ temperature: 25, humidity: 60, pressure: 98_000 });
    for (const air of [
      { temperature: 20, humidity: 101 },
      { temperature: 20, pressure: 980 },
      { temperature: 20, speedOfSound: 343 },
      { temperature: 70, humidity: 100, pressure: 4e4 },
    ]) {
      await expect(load({ ...projectData(), air })).rejects.toThrow(/air/);
    }
    // As hot, humid and thin as it may be: there is room for the vapour.
    expect((await load({ ...projectData(), air: { temperature: 70, humidity: 100, pressure: 5e4 } })).found.air).toEqual({
      temperature: 70,
      humidity: 100,
      pressure: 5e4,
    });
  });

  it("gives frozen data", async () => {
    const loaded = await load(projectData());
    for (const value of [
      loaded,
      loaded.project,
      loaded.project.networks.found.parts,
      loaded.measured,
      loaded.files,
      loaded.notes,
      loaded.found,
    ])
      expect(Object.isFrozen(value)).toBe(true);
  });

  it("loads the example, whose sum of measured branches misses the measured whole as a repeated measurement does", async () => {
    const folder = join(import.meta.dirname, "../../examples/desk-monitor");
    const { found, measured, files, alternative, proposed } = await readProject(readFileSync(join(folder, "project.json"), "utf8"), {
      file: "project.json",
      readFile: (path) => readFile(join(folder, path), "utf8"),
    });
    expect(files).toHaveLength(57);
    // The third network is the same loudspeaker with other parts.
    expect(alternative!.name).toBe("by hand");
    expect(Object.keys(alternative!.loudspeaker.network)).toEqual(["L1", "C1", "C2", "R1", "C3", "L2", "C4", "woofer", "tweeter"]);
    expect(alternative!.loudspeaker.drivers).toEqual(proposed.drivers);
    const places = measured.pressures.filter(({ distance }) => distance === 1);
    const prediction = predict(found, { voltage: 2.83, places, frequencies: places[0]!.response.frequencies });
    // The whole was measured on another day: each driver some 3 mm and 0.2 dB off. Relative to the stronger branch, so that nulls don't rule.
    const missedDb: number[] = [];
    for (const place of places) {
      const { sum, branches } = pressureAtPlace(prediction, place);
      const { frequencies, re, im } = place.response;
      re.forEach((value, i) => {
        const size = Math.hypot(value, im[i]!);
        const strongest = Math.max(size, ...Object.values(branches).map((branch) => Math.hypot(branch!.re[i]!, branch!.im[i]!)));
        missedDb.push((8.686 * (Math.hypot(sum.re[i]!, sum.im[i]!) - size)) / strongest);
        // Where a centimetre turns no phase worth the name, the levels alone are off: by four standard deviations at most.
        if (frequencies[i]! < 400) expect(Math.abs(missedDb[missedDb.length - 1]!), place.label).toBeLessThan(0.8);
      });
    }
    const missed = Math.sqrt(missedDb.reduce((total, miss) => total + miss * miss, 0) / missedDb.length);
    expect(missed).toBeGreaterThan(0.3);
    expect(missed).toBeLessThan(0.9);
  });
});
