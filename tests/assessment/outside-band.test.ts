// What lies outside the judged band, on grids so coarse that points and weights are counted by hand.
import { describe, expect, it } from "vitest";
import { goal, type GoalOptions } from "dividing-network/assessment";
import { loudspeaker, type PressurePerVolt } from "dividing-network/loudspeaker";
import { resistor } from "dividing-network/parts";
import { humpAllowed, humpLimit, humpOf, outsideBand } from "../../src/assessment/outside-band";
import { flat, measure, sampled } from "../support/synthetic";

/** Measured from 62.5 Hz to 16 kHz: at 6 an octave through 1 kHz, points −24 to 24. */
const boxOf = (pressures: readonly PressurePerVolt[] = flat, more: object = {}) =>
  loudspeaker({ network: { cone: [resistor(8), "in", "gnd"] }, drivers: [{ name: "cone", role: "woofer", pressures }], ...more });
const axis = { azimuth: 0, elevation: 0, weight: 1 };
const side = { azimuth: 20, elevation: 0, weight: 1 };
const judged = { from: 500, to: 4000 };
const found = (box = boxOf(), aim: GoalOptions = {}, places = [axis], band = judged) => outsideBand(box, goal(aim), places, 1, band);
const steps = (frequencies: ArrayLike<number>) => Array.from(frequencies, (frequency) => Math.round(6 * Math.log2(frequency / 1000)));
const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);
const narrow = (from: number, to: number, place: object = {}) =>
  measure(() => [0.1, 0], place, range(Math.ceil(48 * Math.log2(from / 1000)), Math.floor(48 * Math.log2(to / 1000))).map((k) => 1000 * 2 ** (k / 48))); // prettier-ignore

describe("where levels outside the judged band are looked at", () => {
  it("is every sixth of an octave beyond it, with one point inside at either end", () => {
    const { frequencies, rows } = found();
    // 500 Hz to 4 kHz are the points −6 to 12.
    expect(steps(frequencies)).toEqual([...range(-24, -6), ...range(12, 24)]);
    expect(steps(rows.map(({ frequency }) => frequency))).toEqual([...range(-24, -7), ...range(13, 24)]);
  });

  it("each is a power mean over a third: half the point itself and a quarter each neighbour, two thirds and one at an end", () => {
    const { frequencies, rows } = found();
    for (const { frequency, first, weights } of rows) {
      const here = Array.from(frequencies).indexOf(frequency);
      const [low, high] = [here === 0, here === frequencies.length - 1];
      expect(first).toBe(low ? here : here - 1);
      expect(Array.from(weights)).toEqual(low ? [2 / 3, 1 / 3] : high ? [1 / 3, 2 / 3] : [0.25, 0.5, 0.25]);
    }
  });

  it("a band whose end lies a rounding beside a point still holds it", () => {
    const beside = found(boxOf(), {}, [axis], { from: 500 * (1 + 1e-9), to: 4000 * (1 - 1e-9) });
    expect(steps(beside.frequencies)).toEqual(steps(found().frequencies));
    const closer = found(boxOf(), {}, [axis], { from: 510, to: 3900 });
    expect(steps(closer.rows.map(({ frequency }) => frequency))).toEqual([...range(-24, -6), ...range(12, 24)]);
  });

  it("nothing, where all that is trusted is judged", () => {
    const { frequencies, rows } = found(boxOf(), {}, [axis], { from: 62, to: 16_100 });
    expect([frequencies.length, rows.length]).toEqual([0, 0]);
  });

  it("as far as every driver was measured there, whatever was measured elsewhere", () => {
    const pressures = [narrow(250, 8000), measure(() => [0.1, 0], { azimuth: 20 }), measure(() => [0.1, 0], { distance: 2 })];
    const ends = ({ frequencies }: ReturnType<typeof found>) => [steps(frequencies)[0], steps(frequencies).at(-1)];
    expect(ends(found(boxOf(pressures)))).toEqual([-12, 18]);
    expect(ends(found(boxOf(pressures), {}, [side]))).toEqual([-24, 24]);
    const [wide, less] = [measure(() => [0.1, 0]), [narrow(250, 8000, { azimuth: 20 }), narrow(250, 8000, { distance: 2 })]];
    expect(ends(found(boxOf([wide, ...less])))).toEqual([-24, 24]);
  });

  it("by the axis, if it is among the places, else by the first; places known over less are left out", () => {
    const box = boxOf([...flat, narrow(250, 16_000, { azimuth: 20 }), narrow(62.5, 8000, { elevation: 10 })]);
    const up = { azimuth: 0, elevation: 10, weight: 1 };
    expect(found(box, {}, [side, up, axis]).places).toEqual([2]);
    expect(steps(found(box, {}, [side, up, axis]).frequencies)[0]).toBe(-24);
    expect(found(box, {}, [side, axis]).places).toEqual([1]);
    expect(steps(found(box, {}, [side, up]).frequencies)[0]).toBe(-12);
    expect(found(box, {}, [side, up]).places).toEqual([0]);
    expect(found(boxOf([...flat, measure(() => [0.1, 0], { azimuth: 20 })]), {}, [axis, side]).places).toEqual([0, 1]);
  });

  it("a partner's pressures and a source's impedance bound it, and a point at 0 Hz doesn't", () => {
    const low = (box: ReturnType<typeof boxOf>, aim: GoalOptions = {}) => steps(found(box, aim).frequencies)[0];
    const partner = (azimuth: number) => ({ partner: { pressures: [{ azimuth, elevation: 0, response: narrow(125, 16_000).response }] } }) as GoalOptions; // prettier-ignore
    expect(low(boxOf(), partner(0))).toBe(-18);
    expect(low(boxOf(), partner(20))).toBe(-24);
    expect(low(boxOf(), { partner: { highPass: { family: "butterworth", order: 2, frequency: 80 } } } as GoalOptions)).toBe(-24);
    const sourceImpedance = sampled(() => [0.1, 0], range(0, 6).map((octave) => 250 * 2 ** octave)); // prettier-ignore
    expect(low(boxOf(flat, { sourceImpedance }))).toBe(-12);
    const impulse = measure(() => [0.1, 0], {}, [0, ...range(-192, 192).map((k) => 1000 * 2 ** (k / 48))]);
    expect(low(boxOf([impulse]))).toBe(-24);
  });
});

describe("the level outside that lies highest", () => {
  /** dB re 20 µPa of 0.1 Pa for 1 V. */
  const level = 20 * Math.log10((2.83 * 0.1) / 20e-6);
  const up = (db: number, from: number, place: object = {}) => measure((f) => [0.1 * 10 ** ((f > from ? db : 0) / 20), 0], place);
  const hump = (box = boxOf(), aim: GoalOptions = {}, { levelDb = level, inside = [0], limit = 3, places = [axis] } = {}) =>
    humpOf(
      box,
      goal(aim),
      { distance: 1, levelDb, places: places.map((place, k) => ({ ...place, highestDb: inside[k]! })) } as never,
      found(box, aim, places),
      limit,
    );

  it("is held against the target", () => {
    const box = boxOf([up(6, 7000)]);
    expect(hump(box)!.aboveDb).toBeCloseTo(6, 9);
    expect(hump(box)!.frequency).toBeGreaterThan(7000);
    expect(hump(box, {}, { levelDb: level - 2 })!.aboveDb).toBeCloseTo(8, 9);
    expect(hump(box)).toMatchObject({ azimuth: 0, elevation: 0, insideDb: 0 });
    // The target falls by 1 dB an octave from 1 kHz: four octaves up, at the last point, 4 dB more.
    expect(hump(box, { slopeDbPerOctave: -1 })!.aboveDb).toBeCloseTo(6 + 4, 9);
    expect(hump(box, { slopeDbPerOctave: -1 })!.frequency).toBeCloseTo(16_000, 6);
  });

  it("at a place with a level of its own, against that", () => {
    const box = boxOf([...flat, up(6, 7000, { azimuth: 20 })]);
    const aim = { places: [{}, { azimuth: 20, levelDb: level - 5, slopeDbPerOctave: -1 }] };
    const made = hump(box, aim, { places: [axis, side], inside: [0, 1] })!;
    expect(made).toMatchObject({ azimuth: 20, insideDb: 1 });
    expect(made.aboveDb).toBeCloseTo(6 + 5 + 4, 9);
    const upward = hump(boxOf([...flat, up(6, 7000, { elevation: 10 })]), { places: [{}, { elevation: 10, levelDb: level - 5 }] }, { places: [axis, { ...axis, elevation: 10 }], inside: [0, 0] })!; // prettier-ignore
    expect([upward.elevation, upward.aboveDb]).toEqual([10, expect.closeTo(11, 9)]);
  });

  it("is the one furthest beyond what is allowed: the limit, or what is as high inside", () => {
    const box = boxOf([up(6, 7000), up(5, 7000, { azimuth: 20 })]);
    const of = (inside: readonly number[], limit: number) => hump(box, {}, { places: [axis, side], inside: [...inside], limit })!.azimuth;
    expect([of([0, 0], 3), of([5.5, 0], 3), of([5.5, 5.2], 3), of([4.5, 0], 4), of([5.5, 0], 4)]).toEqual([0, 20, 0, 0, 20]);
    expect([humpAllowed(3, 2), humpAllowed(3, 4)]).toEqual([3, 4]);
  });

  it("isn't there where nothing lies outside, and silence is low", () => {
    const box = boxOf();
    const outside = found(box, {}, [axis], { from: 62, to: 16_100 });
    expect(
      humpOf(box, goal({}), { distance: 1, levelDb: level, places: [{ ...axis, highestDb: 0 }] } as never, outside, 3),
    ).toBeUndefined();
    const quiet = boxOf([measure((f) => [f > 400 && f < 5000 ? 0.1 : 0, 0])]);
    expect(Number.isFinite(hump(quiet)!.aboveDb)).toBe(true);
    expect(hump(quiet)!.aboveDb).toBeLessThan(0.001);
  });

  it("has a limit unless only what is stated holds, and it isn't", () => {
    expect(humpLimit(goal({}))).toBe(3);
    expect(humpLimit(goal({ limits: "stated" }))).toBeUndefined();
    expect(humpLimit(goal({ limits: "stated", largestHumpDb: 2 }))).toBe(2);
  });
});
