// What has a unit is a number in SI or text with its unit, wherever it goes in.
import { butterworth, ladderValues } from "dividing-network/alignments";
import { loudspeaker, predict, pressureAtPlace, pressurePerVolt } from "dividing-network/loudspeaker";
import { logGrid } from "dividing-network/numeric";
import { closedBoxResponse, resistor } from "dividing-network/parts";
import { frequencyPlot, impedancePlot, responsePlot } from "dividing-network/report";
import { frequencyResponse, minimumPhase, weightingDb, writeTouchstone } from "dividing-network/response";
import { describe, expect, it } from "vitest";

const impedance = frequencyResponse([100, 1000, 10000], [6, 7, 9], [0, 1, 3]);
const wrongUnit = expect.objectContaining({ code: "invalid-quantity" });

describe("quantities as text", () => {
  it("are the same as numbers: a weighting's frequency, a reference resistance, a ladder's source", () => {
    expect(weightingDb("A", "2.5 kHz")).toBe(weightingDb("A", 2500));
    expect(writeTouchstone(impedance, { parameter: "S", resistance: "75 Ω" })).toBe(
      writeTouchstone(impedance, { parameter: "S", resistance: 75 }),
    );
    expect(ladderValues(butterworth(3), { sourceResistance: "500 mΩ" })).toEqual(ladderValues(butterworth(3), { sourceResistance: 0.5 }));
  });

  it("are the same as numbers: the corner beyond the data", () => {
    const box = closedBoxResponse(logGrid(60, 20000, 241), { fc: 60, qtc: 0.7 });
    const tail = { lowSlope: 12, lowQ: 0.7 } as const;
    expect(minimumPhase(box, { ...tail, lowCorner: "60 Hz" }).im).toEqual(minimumPhase(box, { ...tail, lowCorner: 60 }).im);
  });

  it("are the same as numbers: the ends of a plot's axes", () => {
    const series = [{ label: "one", response: impedance }];
    const [from, to] = ["50 Hz", "5 kHz"] as const;
    const panels = [{ label: "level", series: [{ label: "one", frequencies: [100, 1000], values: [1, 2] }] }];
    expect(frequencyPlot({ title: "t", panels, from, to }).svg).toBe(frequencyPlot({ title: "t", panels, from: 50, to: 5000 }).svg);
    expect(responsePlot({ title: "t", series, yLabel: "dB", from, to }).svg).toBe(
      responsePlot({ title: "t", series, yLabel: "dB", from: 50, to: 5000 }).svg,
    );
    expect(impedancePlot({ title: "t", series, from, to, yRange: ["0 Ω", "20 Ω"] }).svg).toBe(
      impedancePlot({ title: "t", series, from: 50, to: 5000, yRange: [0, 20] }).svg,
    );
  });

  it("are the same as numbers: the distance of a place", () => {
    const cone = pressurePerVolt({
      response: frequencyResponse([500, 1000], [1, 1], [0, 0]),
      drive: { voltage: 1, at: "terminals" },
      distance: 1,
      timeZero: "common",
    });
    const box = loudspeaker({ network: { woofer: [resistor(8), "in", "gnd"] }, drivers: [{ name: "woofer", pressures: [cone] }] });
    const axis = { distance: "100 cm", azimuth: 0, elevation: 0 } as const;
    expect(predict(box, { places: [axis] }).places[0]!.distance).toBe(1);
    expect(pressureAtPlace(predict(box), axis).sum.re[0]).toBeCloseTo(2.83, 12);
    expect(() => predict(box, { places: [{ ...axis, distance: "1 s" as never }] })).toThrow(wrongUnit);
  });

  it("of another kind are refused", () => {
    expect(() => weightingDb("A", "1 ms" as never)).toThrow(wrongUnit);
    expect(() => writeTouchstone(impedance, { resistance: "75 H" as never })).toThrow(wrongUnit);
    expect(() =>
      responsePlot({ title: "t", series: [{ label: "one", response: impedance }], yLabel: "dB", from: "20 m" as never }),
    ).toThrow(wrongUnit);
    expect(() => impedancePlot({ title: "t", series: [], yRange: [0, "20 V" as never] })).toThrow(wrongUnit);
  });
});
