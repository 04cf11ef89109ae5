// Tests src/response/: check-response.ts, checked-grid.ts, fractional-octave-bands.ts, unit-scale.ts, views.ts
// What each check lets in and what it names, one thing wrong at a time; bands, scales and times by hand.
import {
  addResponses,
  crossings,
  cumulativeSpectralDecay,
  decayTimes,
  fractionalOctaveBands,
  frequencyResponse,
  gateFromGeometry,
  impulseFromResponse,
  impulseResponse,
  levelDb,
  minimumPhase,
  minimumPhaseWithError,
  readImpulseText,
  readResponseText,
  readTouchstone,
  relativeAcousticOffset,
  resample,
  responseFromImpulse,
  responseFromJSON,
  responseOf,
  responseToJSON,
  smoothResponse,
  toneBurstDecay,
  type FrequencyResponse,
} from "dividing-network/response";
import { inspect } from "node:util";
import { describe, expect, it } from "vitest";
import { gridText, marksText } from "../../src/response/internal";
import { unitScale } from "../../src/response/unit-scale";
import { errorOf } from "./closed-forms";

const near = (value: number, digits = 9): unknown => expect.closeTo(value, digits);

describe("a response made by hand", () => {
  const array = (...values: number[]) => Float64Array.from(values);
  const good = { frequencies: array(0, 100, 200), re: array(1, 2, 3), im: array(0, 0, 0) };
  const wrong = (change: object): string => errorOf(() => levelDb({ ...good, ...change } as FrequencyResponse)).message;

  it("is looked at whole, frozen or not, and each thing wrong is named with its index", () => {
    expect([...levelDb(good as FrequencyResponse)]).toEqual([0, near(6.0205999, 6), near(9.5424251, 6)]);
    for (const freeze of [(value: object) => value, Object.freeze]) {
      const said = (change: object): string => errorOf(() => levelDb(freeze({ ...good, ...change }) as FrequencyResponse)).message;
      for (const change of [
        { frequencies: [0, 100, 200] },
        { re: [1, 2, 3] },
        { im: undefined },
        { re: array(1, 2) },
        { im: array(1, 2) },
        { im: array(1, 2, 3, 4) },
        { frequencies: array(), re: array(), im: array() },
      ])
        expect(said(change), JSON.stringify(change)).toContain("with Float64Arrays of one length");
      for (const [frequencies, at] of [
        [array(-1, 100, 200), 0],
        [array(NaN, 100, 200), 0],
        [array(0, 100, 100), 2],
        [array(0, 300, 200), 2],
        [array(0, 100, Infinity), 2],
        [array(0, 0, 200), 1],
      ] as const)
        expect(said({ frequencies })).toContain(`at index ${at}`);
      for (const [part, at] of [
        [{ re: array(1, NaN, 3) }, 1],
        [{ re: array(1, 2, Infinity) }, 2],
        [{ im: array(-Infinity, 2, 3) }, 0],
        [{ im: array(0, 0, NaN) }, 2],
      ] as const)
        expect(said(part)).toMatch(new RegExp(`finite values, .* at index ${at} `));
      expect(said({ marks: [{ kind: "loud", note: "x" }] })).toContain("must have marks as frequencyResponse takes them");
      expect(said({ marks: [{ kind: "coarse", note: "x", from: -1 }] })).toContain("must have marks");
    }
    for (const value of [null, undefined, 3, "text"]) expect(() => levelDb(value as never)).toThrow(/FrequencyResponse/);
    expect(wrong({ re: "text" })).toContain("FrequencyResponse");
  });

  it("is copied while its maker can still write to it, and shared once it is frozen", () => {
    const own = { frequencies: array(100, 200), re: array(1, 2), im: array(0, 0) };
    const kept = addResponses(own as FrequencyResponse, own as FrequencyResponse);
    own.frequencies[0] = 150;
    own.re[0] = 7;
    expect([kept.frequencies[0], kept.re[0]]).toEqual([100, 2]);
    // What was good before it was changed is looked at again.
    own.im[1] = NaN;
    expect(() => levelDb(own as FrequencyResponse)).toThrow(/finite values/);
    const marked = { ...good, marks: [{ kind: "coarse", note: "gate", to: 150 }] } as unknown as FrequencyResponse;
    expect(addResponses(marked, marked).marks).toEqual([{ kind: "coarse", note: "gate", to: 150 }]);
    expect(addResponses(good as FrequencyResponse, good as FrequencyResponse).marks).toBeUndefined();
  });
});

describe("a list of frequencies", () => {
  const flat = frequencyResponse([0, 1000], [1, 1], [0, 0]);
  const at = (frequencies: unknown) => resample(flat, frequencies as number[], { delay: 0 });

  it("may be an array or a typed array, from 0 Hz on, and is copied", () => {
    const given = Float64Array.of(0, 5e-324, 10);
    const kept = at(given).frequencies;
    expect([...kept]).toEqual([0, 5e-324, 10]);
    given[2] = 20;
    expect(kept[2]).toBe(10);
    expect([...at([0, 10]).frequencies]).toEqual([0, 10]);
    expect([...at(Int16Array.of(3, 7)).frequencies]).toEqual([3, 7]);
    expect([...at([7]).frequencies]).toEqual([7]);
  });

  it("is refused with what is wrong and where", () => {
    for (const make of [(list: number[]) => list, (list: number[]) => Float64Array.from(list)])
      for (const [list, index] of [
        [[-1, 10], 0],
        [[NaN, 10], 0],
        [[Infinity], 0],
        [[1, 10, 10], 2],
        [[1, 10, 9], 2],
        [[1, 10, NaN], 2],
        [[1, 10, Infinity], 2],
        [[-5e-324], 0],
      ] as const)
        expect(errorOf(() => at(make([...list]))).message, String(list)).toContain(`at index ${index}`);
    expect(errorOf(() => at([1, "10"])).message).toContain("at index 1");
    for (const list of [[], new Float64Array(0), "10", { length: 1, 0: 10 }, undefined, null])
      expect(errorOf(() => at(list)).message).toContain("an array of at least one frequency");
    expect(errorOf(() => at(1000)).hint).toContain("Write [1000]");
    for (const none of [NaN, "1000", null]) expect(errorOf(() => at(none)).hint).toContain("logGrid");
  });
});

describe("bands of 1/b octave", () => {
  // Of a decade of 10^0.3b a band: the centres of IEC 61260-1, 1000 · 10^(0.3x/b), or half a step beside for even b.
  it.each([
    [1, [-1, 0, 1], 500, 2000],
    [3, [-3, -2, -1, 0, 1, 2, 3], 500, 2000],
    [2, [-2, -1, 0, 1].map((x) => x + 0.5), 500, 2000],
    [12, [-1, 0, 1, 2].map((x) => x + 0.5), 965, 1160],
  ])("for b = %d lie where the standard puts them, centres and edges", (fraction, places, from, to) => {
    const bands = fractionalOctaveBands({ fraction, from, to });
    const at = (x: number) => 1000 * 10 ** ((0.3 * x) / fraction);
    expect(bands).toEqual(places.map((x) => ({ centre: near(at(x), 6), lower: near(at(x - 0.5), 6), upper: near(at(x + 0.5), 6) })));
  });

  it("are counted by nominal names as well: 0.8 % beside an end still belongs to it, 1 % doesn't", () => {
    const centres = (from: number, to: number) => fractionalOctaveBands({ fraction: 3, from, to }).map(({ centre }) => Math.round(centre));
    expect(centres(1000, 1250)).toEqual([1000, 1259]);
    expect(centres(1007, 1250)).toEqual([1000, 1259]);
    expect(centres(1011, 1247)).toEqual([]);
    expect(centres(1011, 1250)).toEqual([1259]);
    // Of narrow bands the slack is an eighth of half a band at most.
    expect(fractionalOctaveBands({ fraction: 48, from: 1010, to: 1010 * 1.0145 }).length).toBeLessThanOrEqual(2);
  });
});

describe("a scale that keeps squares within what a number can hold", () => {
  it("is 1 for ordinary sizes and for silence, and else brings the largest to between 1 and 2, by at most 2^±1000", () => {
    expect(unitScale(Float64Array.of(0, 0))).toBe(1);
    expect(unitScale(Float64Array.of(3, -1e99), Float64Array.of(1e-99))).toBe(1);
    for (const peak of [1e-300, 3e-200, 5e-101, 2e101, 1e200, 1e301]) {
      const scale = unitScale(Float64Array.of(peak / 7), Float64Array.of(-peak));
      expect(peak / scale).toBeGreaterThanOrEqual(1);
      expect(peak / scale).toBeLessThan(2);
      expect(Number.isInteger(Math.log2(scale))).toBe(true);
    }
    expect([unitScale(Float64Array.of(1e308)), unitScale(Float64Array.of(5e-324))]).toEqual([2 ** 1000, 2 ** -1000]);
  });
});

describe("text of an impulse", () => {
  it("is read in two columns by its times, in one by the stated rate, whatever stands between", () => {
    const two = readImpulseText("time value\n\n0.000 1\n 0.001;\t-2 \n0.002,  3.5\n");
    expect([[...two.samples], two.sampleRate, two.startTime]).toEqual([[1, -2, 3.5], 1000, 0]);
    const one = readImpulseText("# x\n1\n-2.5e0\n+.25\n3.\n", { sampleRate: 48000, startTime: 0.5 });
    expect([[...one.samples], one.sampleRate, one.startTime]).toEqual([[1, -2.5, 0.25, 3], 48000, 0.5]);
    const late = readImpulseText("-0.001 1\n0 2\n0.001 1");
    expect([late.sampleRate, late.startTime]).toEqual([1000, -0.001]);
    // Printed times are rounded: 44.1 kHz with six digits.
    expect(readImpulseText(Array.from({ length: 50 }, (_, n) => `${(n / 44100).toFixed(9)} 1.0`).join("\n")).sampleRate).toBeCloseTo(
      44100,
      -1,
    );
  });

  it.each<[string, string, RegExp, number?]>([
    ["a comma for a point", "1,5\n2,5\n", /decimal commas/],
    ["infinity", "0.1 1\n0.2 1e999\n", /text:2: numbers must be finite, got "0.2 1e999"/],
    ["minus infinity", "0.1 1\n 0.2 -1e999 \n", /text:2: numbers must be finite, got "0.2 -1e999"/],
    ["a word below the numbers", "0.1 1\n end of file \n", /text:2: a line must begin with a number, got "end of file"/],
    ["a column more", "0.1 1\n0.2 1 3\n", /text:2: a line must hold time and value, got "0.2 1 3"/],
    ["a column less", "0.1 1\n0.2\n", /text:2: a line must hold time and value/],
    ["a word beside a number", "0.1 1\n0.2 x\n", /text:2: a line must hold time and value/],
    ["three columns", "0.1 1 2\n", /text:1: a line must hold/],
    ["two numbers after one", " 0.1 \n0.2 3\n", /text:2: a line must hold one number, got "0.2 3"/, 48000],
    ["nothing", "\n", /text:2: there must be at least one value, got 0/],
    ["one time", "0.5 1\n", /text:2: there must be at least two values, got 1/],
    ["times that stand still", "0.5 1\n0.5 1\n", /times must ascend/],
    ["times that fall", "0.5 1\n0.4 1\n", /times must ascend, got 0.5 s to 0.4 s/],
    ["times that are uneven by 2 %", "0 1\n1 1\n2.04 1\n3 1\n", /text:3: times must be equally spaced, got 2.04 s as value 3/],
    ["no rate for one column", "1.0\n2.0\n", /"sampleRate" must be given/],
    ["a rate for two columns", "0 1\n1 2\n", /must be left out/, 48000],
    ["a rate of nothing", "1.0\n2.0\n", /"sampleRate"/, 0],
  ])("is refused for %s, with its line", (_, text, words, sampleRate) => {
    const error = errorOf(() => readImpulseText(text, sampleRate === undefined ? {} : { sampleRate }));
    expect(error.message).toMatch(words);
    const line = /text:(\d+):/.exec(error.message)?.[1];
    if (line !== undefined) {
      const message = error.message.replace(/^readImpulseText: text:\d+: /, "").split("\n")[0]!;
      expect(error.issues[0]).toMatchObject({ code: "invalid-text", file: "text", line: Number(line) });
      expect(message).toContain(error.issues[0]!.message);
    }
  });

  it("is refused for a start beyond all time, for text that is none, and for a start with two columns; an uneven 0.5 % is taken", () => {
    for (const startTime of [-2e6, 2e6]) expect(() => readImpulseText("1.0\n", { sampleRate: 1, startTime })).toThrow(/"startTime"/);
    for (const text of [3, undefined, null, ["1"]]) expect(() => readImpulseText(text as never)).toThrow(/"text" must be a string/);
    expect(() => readImpulseText("0 1\n1 2\n", { startTime: 0 })).toThrow(/must be left out/);
    expect(readImpulseText("0 1\n1 1\n2.005 1\n3 1\n").samples).toHaveLength(4);
    expect(readImpulseText("0.5\n", { sampleRate: 10 }).samples).toHaveLength(1);
  });
});

describe("files", () => {
  it("end in any way, begin with a byte-order mark or not, and hold up to 10,000 characters a line", () => {
    const text = "100 1 2\n200 3 4\n";
    for (const end of ["\n", "\r", "\r\n"])
      for (const whole of [
        text.replaceAll("\n", end),
        `\ufeff${text.replaceAll("\n", end)}`,
        text.trimEnd().replaceAll("\n", end),
        end + text.replaceAll("\n", end),
      ])
        expect([...readResponseText(whole, { columns: "re-im" }).response.re], JSON.stringify(whole)).toEqual([1, 3]);
    expect([...readTouchstone("\ufeff# Hz Z RI R 1\n100 1 2\n").response.re]).toEqual([1]);
    expect(readResponseText(`#${"x".repeat(9999)}\n${text}`, { columns: "re-im" }).response.re).toHaveLength(2);
    expect(() => readResponseText(`${text}#${"x".repeat(10_000)}\n`, { columns: "re-im" })).toThrow(/:? ?line 3: .*got 10001/);
    expect(() => readResponseText("\0", { columns: "re-im" })).toThrow(/NUL/);
    expect(() => readResponseText("", { columns: "re-im", file: "" })).toThrow(/^readResponseText: a text must/);
    expect(() => readResponseText("x\n100 a 2\n", { columns: "re-im", file: "" })).toThrow(/^readResponseText: line 2: /);
  });

  it("state frequencies in their unit to the last digit, exponents too", () => {
    for (const [unit, word, hertz] of [
      ["kHz", "1.1", 1100],
      ["kHz", "1.1e-3", 1.1],
      ["MHz", "2.2E2", 2.2e8],
      ["GHz", "0.3", 3e8],
      ["Hz", "1.7e1", 17],
    ] as const)
      expect(readTouchstone(`# ${unit} Z RI R 1\n${word} 1 2\n`).response.frequencies[0]).toBe(hertz);
  });

  it("of a response come back from JSON, and what is no number is named with its place", () => {
    const response = frequencyResponse([100, 200], [1, 2], [3, 4]);
    expect(responseToJSON(response)).toEqual({ frequencies: [100, 200], re: [1, 2], im: [3, 4] });
    expect(responseFromJSON(responseToJSON(response)).marks).toBeUndefined();
    const marks = [{ kind: "coarse", to: 150, note: "gate" }] as const;
    const marked = responseToJSON(frequencyResponse([100, 200], [1, 2], [3, 4], marks));
    expect(marked.marks).toEqual(marks);
    expect(responseFromJSON(marked).marks).toEqual(marks);
    const base = { frequencies: [100, 200], re: [1, 2], im: [3, 4] };
    expect(() => responseFromJSON({ ...base, re: ["1", 2] })).toThrow(/"re" must be an array of numbers, got "1" at index 0/);
    expect(() => responseFromJSON({ ...base, im: [1, null] })).toThrow(/"im" must be an array of numbers, got null at index 1/);
    expect(() => responseFromJSON({ ...base, frequencies: "100" })).toThrow(/"frequencies" must be an array of numbers, got "100"/);
    expect(() => responseFromJSON({ ...base, im: undefined })).toThrow(/"im" must be an array of numbers, got undefined/);
    for (const json of [null, undefined, 3, "{}"]) expect(() => responseFromJSON(json)).toThrow(/"json" must be \{ frequencies, re, im \}/);
  });
});

describe("zeros and poles", () => {
  const value = (zeros: { re: number; im: number }[], poles: { re: number; im: number }[], gain = 1) => {
    const { re, im } = responseOf({ zeros, poles, gain }, [3 / (2 * Math.PI)]);
    return [near(re[0]!), near(im[0]!)];
  };
  it("are complex each: at s = 3i, by hand", () => {
    // (3i − (−1 + 2i)) = 1 + i; (3i − (2 − i)) = −2 + 4i.
    expect(value([{ re: -1, im: 2 }], [])).toEqual([1, 1]);
    expect(
      value(
        [
          { re: -1, im: 2 },
          { re: 2, im: -1 },
        ],
        [],
      ),
    ).toEqual([-6, 2]);
    // 1/(1 + i) = 0.5 − 0.5i.
    expect(value([], [{ re: -1, im: 2 }], 2)).toEqual([1, -1]);
    expect(value([{ re: 2, im: -1 }], [{ re: -1, im: 2 }])).toEqual([1, 3]);
    // A pole at another height of the axis is none here, and one with the same height beside the axis neither.
    expect(value([], [{ re: 0, im: 2 }])).toEqual([0, -1]);
    expect(value([], [{ re: -1, im: 3 }])).toEqual([1, 0]);
    expect(() => value([], [{ re: 0, im: 3 }])).toThrow(expect.objectContaining({ code: "pole-on-axis" }));
  });

  it("of a prototype are asked up to 10 Hz", () => {
    const prototype = { family: "butterworth", zeros: [], poles: [{ re: -1, im: 0 }], gain: 1 };
    expect(responseOf(prototype, [1, 10]).re).toHaveLength(2);
    expect(() => responseOf(prototype, [1, 10.1])).toThrow(expect.objectContaining({ code: "unscaled-prototype" }));
    expect(() => responseOf({ ...prototype, gain: "1" } as never, [1])).toThrow(/for gain/);
  });
});

describe("a gate from where things stand", () => {
  it("ends with the first of all mirror images, each by its own path", () => {
    const c = 340;
    const found = gateFromGeometry({
      distance: 3,
      sourceHeight: 1,
      microphoneHeight: 1.5,
      ceilingHeight: 2.6,
      walls: [{ name: "rack", source: 2, microphone: 0.5 }, { source: 4, microphone: 4 } as never],
      air: { speedOfSound: c },
    });
    const extra = (a: number, b: number): number => Math.sqrt(9 + 4 * a * b) - 3;
    const paths: [string, number][] = [
      ["rack", extra(2, 0.5)],
      ["floor", extra(1, 1.5)],
      ["ceiling", extra(1.6, 1.1)],
      ["wall 2", extra(4, 4)],
    ];
    expect(found.reflections).toEqual(
      paths.map(([surface, extraPath]) => ({ surface, extraPath: near(extraPath), delay: near(extraPath / c) })),
    );
    expect(found.surface).toBe("rack");
    expect(found.duration).toBeCloseTo(extra(2, 0.5) / c, 12);
    expect(found.lowestFrequency).toBeCloseTo(c / extra(2, 0.5), 6);
    expect(found.coarseBelow).toBeCloseTo((3 * c) / extra(2, 0.5), 6);
    expect(found.working.map(({ value, formula }) => [value, formula])).toEqual([
      [near(extra(2, 0.5)), "√(d² + 4·a·b) − d"],
      [near(extra(2, 0.5) / c), "Δ / c"],
      [near(c / extra(2, 0.5), 6), "1 / T"],
    ]);
  });

  it("is refused where the heights differ by more than the distance, and under a ceiling at the height of either", () => {
    const at = (distance: number, sourceHeight: number, microphoneHeight: number, ceilingHeight?: number) => () =>
      gateFromGeometry({ distance, sourceHeight, microphoneHeight, ceilingHeight });
    expect(at(1, 2, 1)).not.toThrow();
    expect(at(0.999, 2, 1)).toThrow(/from the floor, 1 m, got 0.999 m/);
    expect(at(3, 1, 2, 2)).toThrow(/"ceilingHeight" must be above both/);
    expect(at(3, 2, 1, 2)).toThrow(/"ceilingHeight" must be above both/);
    expect(at(3, 1, 2, 2.01)).not.toThrow();
    expect(gateFromGeometry({ distance: 1, sourceHeight: 1, microphoneHeight: 1 }).reflections).toHaveLength(1);
  });
});

describe("a decay by hand", () => {
  it("of a click is the burst's own envelope: what is left t after the middle is (1 + cos 2πft/n)/2, and nothing half a burst away", () => {
    const rate = 8000;
    const click = impulseResponse(
      Array.from({ length: 200 }, (_, n) => (n === 20 ? 2 : 0)),
      { sampleRate: rate, startTime: 0.003 },
    );
    const arrival = 0.003 + 20 / rate;
    const { levelsDb, times, trusted } = toneBurstDecay(click, {
      frequencies: [500, 1000],
      periods: 4,
      stepsPerPeriod: 4,
      cycles: 4,
      arrival,
    });
    expect([...times]).toEqual(Array.from({ length: 17 }, (_, i) => i / 4));
    times.forEach((periods, i) => {
      const envelope = periods < 2 ? 2 * (0.5 + 0.5 * Math.cos((2 * Math.PI * periods) / 4)) : 0;
      for (const k of [0, 1]) {
        if (envelope > 1e-9) expect(levelsDb[i]![k]).toBeCloseTo(20 * Math.log10(envelope), 6);
        else expect(levelsDb[i]![k]).toBeLessThan(-250);
        // After half a burst, and while the burst ends within the 22.4 ms that follow.
        expect(trusted[i]![k], `${periods} ${k}`).toBe(periods >= 2 ? 1 : 0);
      }
    });
    const cut = toneBurstDecay(click, { frequencies: [500], periods: 20, stepsPerPeriod: 1, cycles: 4, arrival });
    // 180 samples after the click are left: 22.5 ms, of which the burst takes 4 ms after its middle.
    expect([...cut.times].filter((_, i) => cut.trusted[i]![0] === 1)).toEqual([2, 3, 4, 5, 6, 7, 8, 9]);
  });

  it("is read between two steps as a straight line in dB", () => {
    // A tone that falls by 4 dB a period: 10 dB take 2.5 periods, half way between two steps.
    const [rate, f] = [48000, 1000];
    const tone = impulseResponse(
      Array.from({ length: 4800 }, (_, n) => 10 ** ((-4 * ((n * f) / rate)) / 20) * Math.cos((2 * Math.PI * f * n) / rate)),
      { sampleRate: rate },
    );
    const at = (fallDb: number, stepsPerPeriod: number) =>
      decayTimes(tone, { frequencies: [f], fallDb, arrival: 0.01, periods: 40, stepsPerPeriod, cycles: 2 })[0]!;
    for (const steps of [1, 2, 3]) {
      expect(at(10, steps).periods).toBeCloseTo(2.5, 2);
      expect(at(10, steps).seconds).toBeCloseTo(0.0025, 5);
      expect(at(31, steps).periods).toBeCloseTo(7.75, 2);
    }
    expect(decayTimes(tone, { frequencies: [f], fallDb: 190, arrival: 0.01, periods: 20 })[0]).toEqual({
      frequency: f,
      periods: undefined,
      seconds: undefined,
    });
  });

  it("in slices is the response of what is left: of two clicks the second stays when the first is past", () => {
    const rate = 1000;
    const samples = new Array<number>(400).fill(0);
    samples[100] = 1;
    samples[150] = 0.5;
    const clicks = impulseResponse(samples, { sampleRate: rate, startTime: -0.02 });
    const { levelsDb, times } = cumulativeSpectralDecay(clicks, {
      frequencies: [20, 100, 450],
      duration: 0.15,
      slices: 5,
      arrival: 0.08,
      rise: 0.005,
      shape: "rectangular",
    });
    expect([...times]).toEqual([0, 0.03, 0.06, 0.09, 0.12].map((time) => near(time)));
    // Both clicks: 1 + 0.5 e^(−j2πf·50 ms): 50 ms are whole periods of 20 and 100 Hz, and 22.5 of 450 Hz.
    expect([...levelsDb[0]!]).toEqual([near(20 * Math.log10(1.5), 6), near(20 * Math.log10(1.5), 6), near(20 * Math.log10(0.5), 6)]);
    expect([...levelsDb[1]!]).toEqual([0.5, 0.5, 0.5].map((size) => near(20 * Math.log10(size), 6)));
    expect([...levelsDb[2]!].every((level) => level < -200)).toBe(true);
  });
});

describe("from frequencies to samples and back", () => {
  it("a spectrum that is exactly the transform's is taken as it is, another one is interpolated to the same", () => {
    const impulse = impulseResponse([0.5, -1, 2, 0.25, 3, -0.75, 0.125, 1], { sampleRate: 800 });
    const bins = responseFromImpulse(impulse);
    const back = impulseFromResponse(bins, { sampleRate: 800, length: 8 });
    back.samples.forEach((value, n) => expect(value).toBeCloseTo(impulse.samples[n]!, 12));
    // Rough values that no interpolation would give back come through untouched, marks of phase and all.
    const rough = frequencyResponse(bins.frequencies, [1, -1, 1, -1, 1], [0, 5, -5, 5, 0]);
    const samples = impulseFromResponse(rough, { sampleRate: 800, length: 8 });
    responseFromImpulse(samples).im.forEach((im, k) => expect(im).toBeCloseTo([0, 5, -5, 5, 0][k]!, 10));
    // One frequency beside the bins, and it isn't the transform's any more.
    const beside = frequencyResponse([0, 100, 200, 310, 400], [1, -1, 1, -1, 1], [0, 5, -5, 5, 0]);
    expect(responseFromImpulse(impulseFromResponse(beside, { sampleRate: 800, length: 8 })).im[3]).not.toBeCloseTo(5, 2);
  });

  it("a band without a bin in it gives silence", () => {
    const band = frequencyResponse([110, 190], [1, 1], [0, 0]);
    expect([...impulseFromResponse(band, { sampleRate: 800, length: 8 }).samples]).toEqual(new Array(8).fill(0));
    expect([...impulseFromResponse(band, { sampleRate: 800, length: 16 }).samples].some((value) => value !== 0)).toBe(true);
  });
});

describe("crossings", () => {
  it("of a straight line in dB over ln f lie where it meets the level, to the last digits", () => {
    const f = [100, 200, 400];
    const falling = frequencyResponse(f, [1, 0.5, 0.25], [0, 0, 0]);
    expect(crossings(falling, -3)).toEqual([{ frequency: near(100 * 10 ** (3 / 20), 9), direction: "falling" }]);
    expect(crossings(frequencyResponse(f, [0.25, 0.5, 1], [0, 0, 0]), -3)).toEqual([
      { frequency: near(400 / 10 ** (3 / 20), 9), direction: "rising" },
    ]);
    for (const reference of [0, -1]) expect(() => crossings(falling, -3, { reference })).toThrow(/"reference"/);
  });
});

describe("smoothing by hand", () => {
  it("of complex values is squared as a whole, keeps marks, and silence between sounds is filled", () => {
    const f = Array.from({ length: 13 }, (_, k) => 100 * 2 ** (k / 12));
    const flat = frequencyResponse(
      f,
      f.map(() => 3),
      f.map(() => 4),
      [{ kind: "coarse", note: "gate" }],
    );
    for (const kind of ["power", "complex"] as const) {
      const smooth = smoothResponse(flat, { fraction: 3, kind, delay: 0 });
      smooth.re.forEach((re, k) => expect([re, smooth.im[k]]).toEqual([near(3), near(4)]));
      expect(smooth.marks!.map((mark) => mark.kind)).toEqual(["coarse", "smoothed"]);
    }
    // A zero between two twos, as the mean of straight lines of the power over a third of an octave (± 2 points): 4 · (1 + ½)/2 = 3.
    const gap = frequencyResponse(
      f,
      f.map((_, k) => (k === 6 ? 0 : 2)),
      f.map(() => 0),
    );
    expect(smoothResponse(gap, { fraction: 3 }).re[6]).toBeCloseTo(Math.sqrt(3), 9);
  });
});

describe("the offset of two drivers", () => {
  const f = Array.from({ length: 40 }, (_, k) => 500 * 10 ** (k / 39));
  const flat = (size: number, delay = 0) =>
    frequencyResponse(
      f,
      f.map((hz) => size * Math.cos(2 * Math.PI * hz * delay)),
      f.map((hz) => -size * Math.sin(2 * Math.PI * hz * delay)),
    );
  const c = 340;

  it("is found in the stated polarity, and the next best answer is told with how much worse it fits", () => {
    const tau = 0.03 / c;
    const both = addResponses(flat(1), flat(0.8, tau));
    const found = relativeAcousticOffset({ first: flat(1), second: flat(0.8), both, air: { speedOfSound: c }, largestOffset: 0.2 });
    expect([Math.abs(found.offset), Math.abs(found.delay), found.polarity]).toEqual([near(0.03, 7), near(tau, 10), "same"]);
    // Both are flat: a path longer or shorter by the same makes the same magnitude.
    expect(found.runnerUp!.polarity).toBe("same");
    expect(found.runnerUp!.offset).toBeCloseTo(-found.offset, 6);
    const against = relativeAcousticOffset({
      first: flat(1),
      second: flat(0.8),
      both,
      polarity: "reversed",
      air: { speedOfSound: c },
      largestOffset: 0.2,
    });
    expect(against.polarity).toBe("reversed");
    expect(against.misfit).toBeGreaterThan(0.05);
  });

  it("must lie within the largest one, and the band within the two limits", () => {
    const both = addResponses(flat(1), flat(0.8, 0.03 / c));
    const given = { first: flat(1), second: flat(0.8), both, polarity: "same", air: { speedOfSound: c } } as const;
    expect(Math.abs(relativeAcousticOffset({ ...given, largestOffset: 0.031 }).offset)).toBeCloseTo(0.03, 6);
    expect(() => relativeAcousticOffset({ ...given, from: 2000, to: 1000 })).toThrow(/"to"/);
    for (const largestOffset of [0, -1, 11]) expect(() => relativeAcousticOffset({ ...given, largestOffset })).toThrow(/"largestOffset"/);
    // Four frequencies are enough, three aren't; those beyond the limits may be wrong.
    const off = frequencyResponse(
      f,
      both.re.map((re, k) => (k >= 10 && k <= 13 ? re : re + 0.5)),
      both.im,
    );
    const four = { ...given, both: off, largestOffset: 0.05 };
    expect(Math.abs(relativeAcousticOffset({ ...four, from: f[10]! * 0.999, to: f[13]! * 1.001 }).offset)).toBeCloseTo(0.03, 5);
    expect(() => relativeAcousticOffset({ ...four, from: f[10]! * 0.999, to: f[12]! * 1.001 })).toThrow(/got 3/);
    const wrong = (from: number, to: number): number => {
      try {
        return Math.abs(relativeAcousticOffset({ ...four, from, to }).offset);
      } catch {
        return 0;
      }
    };
    expect(wrong(f[9]! * 0.999, f[13]! * 1.001)).not.toBeCloseTo(0.03, 3);
    expect(wrong(f[10]! * 0.999, f[14]! * 1.001)).not.toBeCloseTo(0.03, 3);
  });

  it("is as uncertain as the misfit that is left over how fast the sum turns with it", () => {
    const off = f.map((_, k) => (k % 2 === 0 ? 0.01 : -0.01));
    const sum = addResponses(flat(1), flat(0.8, 0.03 / c));
    const size = sum.re.map((re, k) => Math.hypot(re, sum.im[k]!));
    const both = frequencyResponse(
      f,
      size.map((value, k) => value + off[k]!),
      f.map(() => 0),
    );
    const found = relativeAcousticOffset({
      first: flat(1),
      second: flat(0.8),
      both,
      polarity: "same",
      air: { speedOfSound: c },
      largestOffset: 0.05,
    });
    const tau = Math.abs(found.delay);
    // d|1 + 0.8 e^(−jx)|/dτ = −0.8 sin x · 2πf / |…|.
    const model = f.map((hz) => Math.sqrt(1.64 + 1.6 * Math.cos(2 * Math.PI * hz * tau)));
    const slopes = f.map((hz, k) => (0.8 * Math.sin(2 * Math.PI * hz * tau) * 2 * Math.PI * hz) / model[k]!);
    const left = f.reduce((total, _, k) => total + (model[k]! - size[k]! - off[k]!) ** 2, 0);
    const steep = slopes.reduce((total, slope) => total + slope * slope, 0);
    expect(found.delayUncertainty).toBeCloseTo(Math.sqrt(left / 39 / steep), 10);
    expect(found.offsetUncertainty / found.delayUncertainty).toBeCloseTo(c, 6);
    expect(found.misfit).toBeCloseTo(Math.sqrt(left / 40), 6);
  });
});

describe("values show themselves", () => {
  it("by their grid, size and marks, as printed", () => {
    const one = frequencyResponse([1000], [0], [-0.5]);
    expect(inspect(one)).toBe("FrequencyResponse: 1 point, 1 kHz\n  magnitude 0.5 (−6.021 dB re 1 of its unit)");
    const two = frequencyResponse([0, 100, 20000], [3, 0, 0], [4, 0.1, 0], [{ kind: "coarse", from: 100, to: 200, note: "a\nb" }]);
    expect(inspect(two)).toBe(
      "FrequencyResponse: 3 points, 0 Hz to 20 kHz\n  magnitude 0 to 5 (−∞ dB to 13.98 dB re 1 of its unit)\n  coarse from 100 Hz to 200 Hz: a b",
    );
    expect(inspect(impulseResponse([0.5, -2, 1], { sampleRate: 1000, startTime: -0.001 }))).toBe(
      "ImpulseResponse: 3 samples at 1 kHz, −1 ms to 1 ms\n  largest −2 at 0 s",
    );
    expect(inspect(impulseResponse([0.5], { sampleRate: 1000 }))).toContain("1 sample at 1 kHz, 0 s to 0 s");
    expect(gridText(Float64Array.of(20, 100, 20000))).toBe("3 points, 20 Hz to 20 kHz");
    expect(() => gridText(Float64Array.of())).toThrow(/at least 1 number/);
  });

  it("with so many marks as are asked for, bands as they are known, notes cut to a line", () => {
    const note = "n";
    const marks = [
      { kind: "coarse", note },
      { kind: "uncertain", to: 50, note },
      { kind: "no-data", from: 60, note },
      { kind: "model", from: 60, to: 70, note: "x".repeat(130) },
      { kind: "model", from: 60, to: 70, note: "x".repeat(131) },
    ] as const;
    const lines = [
      "coarse: n",
      "uncertain up to 50 Hz: n",
      "no-data from 60 Hz: n",
      `model from 60 Hz to 70 Hz: ${"x".repeat(130)}`,
      `model from 60 Hz to 70 Hz: ${"x".repeat(129)}…`,
    ];
    expect(marksText(marks)).toEqual(lines);
    expect(marksText(marks, 5)).toEqual(lines);
    expect(marksText(marks, 2)).toEqual([...lines.slice(0, 2), "and 3 more marks"]);
    expect(marksText([...marks, marks[0], marks[1]])).toEqual([...lines, lines[0], "and 1 more marks"]);
    expect(marksText(marks, 0)).toEqual(["and 5 more marks"]);
    expect(marksText()).toEqual([]);
    for (const most of [-1, 1.5]) expect(() => marksText(marks, most)).toThrow(/"most"/);
  });

  it("a minimum-phase response by where it is surest and where it isn't", () => {
    const f = Array.from({ length: 61 }, (_, k) => 100 * 2 ** (k / 12));
    const found = minimumPhaseWithError(
      frequencyResponse(
        f,
        f.map((hz) => 1 / Math.hypot(1, hz / 800)),
        f.map(() => 0),
      ),
      { lowSlope: 0 },
    );
    const least = found.errorDegrees.indexOf(Math.min(...found.errorDegrees));
    const most = found.errorDegrees.indexOf(Math.max(...found.errorDegrees));
    const text = inspect(found);
    expect(text).toMatch(/^MinimumPhaseResult: 61 points, 100 Hz to 3\.2 kHz\n {2}phase uncertain by \S+° at .* to \S+° at .*\n/);
    expect(Number(/ by (\S+)°/.exec(text)![1])).toBeCloseTo(found.errorDegrees[least]!, 4);
    expect(Number(/ to (\S+)° at/.exec(text.split("\n")[1]!)![1])).toBeCloseTo(found.errorDegrees[most]!, 2);
    expect(text).toContain(`falls by 0 dB per octave below the data, ${found.highSlope} above; transform of ${found.points} points`);
  });
});

describe("minimum phase at its limits", () => {
  it("takes four frequencies above 0 Hz, counts those that hold data, and says of either end what it lacks", () => {
    const of = (f: number[], marks: Parameters<typeof frequencyResponse>[3] = []) =>
      frequencyResponse(
        f,
        f.map(() => 1),
        f.map(() => 0),
        marks,
      );
    expect(minimumPhase(of([0, 100, 200, 300, 400])).re).toHaveLength(5);
    expect(() => minimumPhase(of([0, 100, 200, 300]))).toThrow(/got 3$/m);
    expect(() => minimumPhase(of([100, 200, 300, 400, 500], [{ kind: "no-data", to: 250, note: "x" }]), { lowSlope: 0 })).toThrow(/got 3/);
    expect(() => minimumPhase(of([100, 200, 300], [{ kind: "no-data", note: "x" }]))).toThrow(/got 0/);
    const both = of(
      [100, 200, 300, 400, 500, 600, 700],
      [
        { kind: "no-data", to: 150, note: "x" },
        { kind: "no-data", from: 650, note: "x" },
      ],
    );
    expect(errorOf(() => minimumPhase(both)).message).toContain('"lowSlope" must be given for data that end at 200.0 Hz');
    expect(errorOf(() => minimumPhase(both)).hint).toContain("enclosure");
    expect(errorOf(() => minimumPhase(both, { lowSlope: 0 })).message).toContain('"highSlope" must be given for data that end at 600.0 Hz');
    expect(errorOf(() => minimumPhase(both, { lowSlope: 0 })).hint).toContain("beyond the data");
    for (const lowCorner of [0, -1])
      expect(() => minimumPhase(of([100, 200, 300, 400]), { lowSlope: 12, lowCorner })).toThrow(/"lowCorner"/);
  });

  it("is the same for numbers near the ends of what a number can hold", () => {
    const f = Array.from({ length: 49 }, (_, k) => 100 * 2 ** (k / 12));
    const of = (scale: number) =>
      frequencyResponse(
        f,
        f.map((hz) => scale / Math.hypot(1, hz / 800)),
        f.map(() => 0),
      );
    const plain = minimumPhase(of(1));
    for (const scale of [1e-200, 1e200]) {
      const found = minimumPhase(of(scale));
      found.re.forEach((re, k) => expect([re / scale, found.im[k]! / scale]).toEqual([near(plain.re[k]!, 8), near(plain.im[k]!, 8)]));
    }
  });
});
