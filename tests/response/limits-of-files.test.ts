// Tests src/response/: read-wav.ts, write-wav.ts, gate-impulse.ts, impulse-response.ts, same-grid.ts, band-average.ts
// Damaged files and impulses, one thing wrong at a time; gates of samples that begin elsewhere than at zero; means over bands by hand.
import {
  addResponses,
  bandMeanLevelDb,
  bandPowerAverage,
  frequencyResponse,
  fromLevelAndPhase,
  gatedResponse,
  gateImpulse,
  impulseResponse,
  readResponseText,
  readWav,
  responseFromImpulse,
  scaleResponse,
  smoothingBiasDb,
  smoothResponse,
  stepResponse,
  writeWav,
  type ImpulseResponse,
} from "dividing-network/response";
import { describe, expect, it } from "vitest";
import { errorOf } from "./closed-forms";

const near = (value: number, digits = 9): unknown => expect.closeTo(value, digits);

describe("a WAV file", () => {
  const good = writeWav(impulseResponse([0.5, -0.25, 0.125], { sampleRate: 8000 }), { format: "pcm-16" });
  const damaged = (change: (view: DataView) => void, bytes = good): string => {
    const copy = bytes.slice();
    change(new DataView(copy.buffer));
    return errorOf(() => readWav(copy)).message;
  };

  it("with one field of its head damaged is refused with what is wrong", () => {
    expect([...readWav(good).samples]).toEqual([0.5, -0.25, 0.125]);
    expect(damaged((view) => view.setUint8(0, 88))).toContain('must begin with RIFF … WAVE, got "XIFFWAVE"');
    expect(damaged((view) => view.setUint8(8, 88))).toContain('got "RIFFXAVE"');
    expect(errorOf(() => readWav(good.slice(0, 11))).message).toContain("got 11 bytes");
    expect(errorOf(() => readWav(good.slice(0, 12))).message).toContain('"fmt "');
    // Channels 0, rate 0, and a frame that doesn't fit.
    expect(damaged((view) => view.setUint16(22, 0, true))).toContain("consistent, got 0 channels, 8000 Hz");
    expect(damaged((view) => view.setUint32(24, 0, true))).toContain("consistent, got 1 channels, 0 Hz");
    expect(damaged((view) => view.setUint16(32, 4, true))).toContain("in frames of 4 bytes");
    // Formats: 16 bits of floating point, 64 of integers, none that is known.
    expect(damaged((view) => view.setUint16(20, 3, true))).toContain("got format 3 with 16 bits");
    expect(damaged((view) => view.setUint16(34, 64, true))).toContain("got format 1 with 64 bits");
    expect(damaged((view) => view.setUint16(20, 2, true))).toContain("got format 2 with 16 bits");
    // A format chunk too short to hold a format, and one that says extensible without saying of what.
    const short = Uint8Array.from([...good.subarray(0, 34), ...good.subarray(36)]);
    expect(damaged((view) => view.setUint32(16, 14, true), short)).toContain("at least 16 bytes");
    expect(damaged((view) => view.setUint16(20, 0xfffe, true))).toContain("got format 65534");
    // Data longer than the file, or none.
    expect(damaged((view) => view.setUint32(40, 8, true))).toContain(
      'chunk "data" at byte 36 must end within the file, got 8 bytes where 6 are left',
    );
    expect(damaged((view) => view.setUint8(36, 88))).toContain('must have a "data" chunk');
    expect(damaged((view) => view.setUint32(40, 5, true))).toContain("whole frames of 2 bytes, at least one, got 5 bytes");
    expect(damaged((view) => view.setUint32(40, 0, true))).toContain("got 0 bytes");
  });

  it("takes any view of bytes, a start within all time and a channel that is there", () => {
    const inside = new Uint8Array(good.length + 8);
    inside.set(good, 4);
    expect([...readWav(inside.subarray(4, 4 + good.length)).samples]).toEqual([0.5, -0.25, 0.125]);
    expect([...readWav(good.slice().buffer).samples]).toEqual([0.5, -0.25, 0.125]);
    for (const none of [undefined, null, "RIFF", [82], {}]) expect(() => readWav(none as never)).toThrow(/"bytes" must be an ArrayBuffer/);
    expect(readWav(good, { startTime: -0.5 }).startTime).toBe(-0.5);
    for (const startTime of [-2e6, 2e6]) expect(() => readWav(good, { startTime })).toThrow(/"startTime"/);
    expect(readWav(good, { channel: 0 }).samples).toHaveLength(3);
    for (const channel of [-1, 0.5, 1]) expect(() => readWav(good, { channel })).toThrow(/"channel"/);
  });

  it("holds rates whose bytes a second fit into 32 bits", () => {
    const at = (sampleRate: number, format: "pcm-16" | "float-32") => () => writeWav(impulseResponse([0], { sampleRate }), { format });
    expect(at(1e9, "pcm-16")).not.toThrow();
    expect(new DataView(at(1e9, "pcm-16")().buffer).getUint32(28, true)).toBe(2e9);
    expect(() => writeWav({ samples: Float64Array.of(0), sampleRate: 2 ** 31, startTime: 0 }, { format: "pcm-16" })).toThrow(
      /below 2147483648,/,
    );
    expect(() => writeWav({ samples: Float64Array.of(0), sampleRate: 2 ** 30, startTime: 0 })).toThrow(/below 1073741824,/);
    expect(() => writeWav({ samples: Float64Array.of(0), sampleRate: 2 ** 30 - 1, startTime: 0 })).not.toThrow();
  });
});

describe("an impulse", () => {
  it("is looked at whole wherever it comes in, and what is wrong is named", () => {
    const good = { samples: Float64Array.of(1, 0), sampleRate: 10, startTime: 0 };
    const said = (change: object): string => errorOf(() => stepResponse({ ...good, ...change } as ImpulseResponse)).message;
    expect(said({ samples: [1, 0] })).toContain("with a Float64Array");
    expect(said({ samples: new Float64Array(0) })).toContain("with a Float64Array");
    expect(said({ samples: Float64Array.of(NaN, 0) })).toContain("finite samples, got NaN at index 0");
    expect(said({ samples: Float64Array.of(0, -Infinity) })).toContain("finite samples, got -Infinity at index 1");
    for (const sampleRate of [0, -1, NaN, 1e-7, "10"]) expect(said({ sampleRate })).toContain("impulse.sampleRate");
    for (const startTime of [2e6, -2e6, NaN, undefined]) expect(said({ startTime })).toContain("impulse.startTime");
    for (const none of [null, undefined, 3]) expect(() => stepResponse(none as never)).toThrow(/ImpulseResponse/);
    for (const none of [[], "1", { length: 1, 0: 1 }, undefined])
      expect(() => impulseResponse(none as never, { sampleRate: 1 })).toThrow(/"samples" must be an array/);
    expect(errorOf(() => impulseResponse([1, NaN], { sampleRate: 1 })).message).toContain("got NaN at index 1");
  });
});

describe("a gate", () => {
  const rate = 1000;
  const ones = (startTime: number, length = 100) => impulseResponse(new Array<number>(length).fill(1), { sampleRate: rate, startTime });

  it("counts from where the samples begin, before zero or after it", () => {
    for (const startTime of [-0.03, 0, 0.5]) {
      const gate = gateImpulse(ones(startTime), { duration: 0.02, arrival: startTime + 0.04, lead: 0.005, fade: 0 });
      expect(gate.startTime).toBeCloseTo(startTime + 0.035, 12);
      expect(gate.samples).toHaveLength(26);
      expect([...gate.samples.subarray(5)]).toEqual(new Array(21).fill(1));
      // Half a Hann over the lead: 0 at its beginning, (1 + cos πu)/2 at the share u before the arrival.
      [1, 0.8, 0.6, 0.4, 0.2].forEach((u, i) => expect(gate.samples[i]).toBeCloseTo((1 + Math.cos(Math.PI * u)) / 2, 9));
    }
  });

  it("opens over a tenth of its duration unless a lead is stated, at the arrival unless one is stated", () => {
    const click = impulseResponse(
      Array.from({ length: 100 }, (_, n) => (n < 40 ? 0 : 1)),
      { sampleRate: rate },
    );
    const gate = gateImpulse(click, { duration: 0.02, fade: 0 });
    expect(gate.startTime).toBeCloseTo(0.038, 3);
    expect(gateImpulse(ones(0), { duration: 0.02, arrival: 0.04, fade: 0 }).startTime).toBeCloseTo(0.038, 12);
  });

  it("ends with the samples, and is refused where none of them lie in it", () => {
    expect(gateImpulse(ones(0), { duration: 1, arrival: 0.09, lead: 0, fade: 0 }).samples).toHaveLength(10);
    expect(gateImpulse(ones(0), { duration: 0.0001, arrival: 0.04, lead: 0, fade: 0 }).samples).toHaveLength(1);
    const outside = errorOf(() => gateImpulse(ones(0.5), { duration: 0.02, arrival: 0.7, lead: 0.01 }));
    expect(outside.code).toBe("outside-impulse");
    expect(outside.message).toContain("0.5 s to 0.599 s, got 0.69 s to 0.72 s");
    expect(() => gateImpulse(ones(0), { duration: 0.0004, arrival: 0.0403, lead: 0 })).toThrow(/within the samples/);
  });

  it("as a response has a spacing of a quarter of 1/T at most, and the marks of its duration", () => {
    const response = gatedResponse(ones(0), { duration: 0.02, arrival: 0.04, lead: 0, fade: 0 });
    // 80 samples of four durations: the next power of two is 128.
    expect(response.frequencies[1]).toBeCloseTo(rate / 128, 9);
    expect(response.marks!.map(({ kind, from, to }) => [kind, from, to])).toEqual([
      ["no-data", undefined, 50],
      ["coarse", 50, near(150)],
    ]);
    const some = gatedResponse(ones(0), { duration: 0.02, arrival: 0.04, lead: 0, fade: 0, frequencies: [0, 100] });
    expect([...some.re]).toEqual([
      near(21),
      near(responseFromImpulse(gateImpulse(ones(0), { duration: 0.02, arrival: 0.04, lead: 0, fade: 0 }), { frequencies: [100] }).re[0]!),
    ]);
  });
});

describe("responses of several", () => {
  it("must share their frequencies, one by one", () => {
    const at = (...f: number[]) =>
      frequencyResponse(
        f,
        f.map(() => 1),
        f.map(() => 0),
      );
    expect(addResponses(at(100, 200), at(100, 200)).re[1]).toBe(2);
    expect(errorOf(() => addResponses(at(100, 200), at(100, 201))).message).toContain("at index 1");
    expect(errorOf(() => addResponses(at(100, 200), at(101, 200))).message).toContain("at index 0");
    const unlike = errorOf(() => addResponses(at(100, 200, 300), at(100, 200)));
    expect(unlike.code).toBe("grid-mismatch");
    expect(unlike.message).toMatch(/3 .*100 Hz.*300 Hz.*2 .*100 Hz.*200 Hz/);
  });

  it("are scaled by numbers and by complex numbers, and by nothing else", () => {
    const one = frequencyResponse([100], [1], [2]);
    const by = (factor: unknown) => scaleResponse(one, factor as number);
    // (1 + 2i)(3 + 4i) = −5 + 10i.
    expect([by({ re: 3, im: 4 }).re[0], by({ re: 3, im: 4 }).im[0], by(2).im[0], by(-1).re[0]]).toEqual([-5, 10, 4, -1]);
    for (const none of ["2", { re: "1", im: 0 }, { re: 1, im: "0" }, { re: 1 }, null, NaN, { re: NaN, im: 0 }, { re: 0, im: Infinity }])
      expect(() => by(none), String(none)).toThrow(expect.objectContaining({ name: "DividingNetworkError" }));
  });
});

describe("levels and phases", () => {
  it("must be numbers, finite ones but for a level of nothing", () => {
    const of = (level: unknown, phase: unknown) => fromLevelAndPhase([100], [level as number], [phase as number]);
    expect([of(20, 90).re[0], of(20, 90).im[0]]).toEqual([near(0), near(10)]);
    expect([of(-Infinity, 0).re[0], of(-Infinity, 0).im[0]]).toEqual([0, 0]);
    for (const level of [NaN, Infinity, 1e5, "20", undefined]) expect(() => of(level, 0), String(level)).toThrow(/index 0|Hz/);
    for (const phase of [NaN, Infinity, -Infinity, "0", undefined]) expect(() => of(0, phase), String(phase)).toThrow(/index 0|Hz/);
  });
});

describe("means over a band", () => {
  it("of a straight line in dB over ln f are its middle, wherever the band ends: on samples or between them", () => {
    const f = [50, 100, 200, 400, 800];
    const line = frequencyResponse([0, ...f], [9, ...f.map((hz) => hz / 100)], f.map(() => 0).concat(0));
    for (const [from, to] of [
      [100, 400],
      [50, 800],
      [100, 300],
      [130, 200],
      [130, 150],
      [50, 60],
      [700, 800],
    ] as const)
      expect(bandMeanLevelDb(line, { from, to }), `${from} ${to}`).toBeCloseTo(20 * Math.log10(Math.sqrt(from * to) / 100), 9);
    for (const [from, to] of [
      [40, 100],
      [400, 801],
    ] as const)
      expect(() => bandMeanLevelDb(line, { from, to })).toThrow(/50 Hz to 800 Hz/);
    for (const few of [frequencyResponse([100], [1], [0]), frequencyResponse([0, 100], [1, 1], [0, 0])])
      expect(() => bandPowerAverage(few, { from: 99, to: 101 })).toThrow(expect.objectContaining({ code: "outside-band" }));
    // What lies beside the band doesn't count.
    const loud = frequencyResponse(
      f,
      [100, 1, 1, 1, 100],
      f.map(() => 0),
    );
    expect(bandPowerAverage(loud, { from: 100, to: 400 })).toBeCloseTo(1, 9);
  });
});

describe("smoothing", () => {
  it("of a level line is biased by nothing, and what lies at 0 Hz alone stays", () => {
    expect(smoothingBiasDb({ fraction: 3, slope: 0 })).toBe(0);
    expect(smoothingBiasDb({ fraction: 3, slope: 1e-6 })).toBeLessThan(1e-9);
    const dc = smoothResponse(frequencyResponse([0], [3], [4]), { fraction: 3 });
    expect([dc.re[0], dc.im[0]]).toEqual([3, 4]);
  });
});

describe("a text", () => {
  it("takes comments of several marks, names by tabs, twenty notes and no more", () => {
    const named = readResponseText("## f\t\tre\tim\tmy  own\n100\t1\t2\t3\n200\t1\t2\t3\n", { columns: "re-im" });
    expect(named.notes).toEqual(['column 4 ("my  own") was ignored']);
    const headed = readResponseText(`${"word\n".repeat(30)}100 1 2\n200 1 2\n`, { columns: "re-im" });
    expect(headed.notes).toHaveLength(20);
    expect(headed.notes[19]).toContain("line 20 ");
    const wide = readResponseText(`100 1 2${" 3".repeat(30)}\n200 1 2${" 3".repeat(30)}\n`, { columns: "re-im" });
    expect(wide.notes).toHaveLength(20);
    expect(wide.notes[19]).toBe("column 23 was ignored");
    // Names count where there is one for each column.
    expect(readResponseText("# a b\n100 1 2 3\n200 1 2 3\n", { columns: "re-im" }).notes).toEqual(["column 4 was ignored"]);
  });

  it("says what to do without a phase, and which way out an order has", () => {
    const hint = (text: string, columns: "db" | "re-im" | "db-degrees"): string => errorOf(() => readResponseText(text, { columns })).hint;
    expect(hint("100 1\n200 1\n", "db-degrees")).toContain('columns: "db"');
    expect(hint("100\n200\n", "db")).toBe("Export frequency and level");
    expect(hint("300 1\n200 1\n100 1\n", "db")).toBe("Reverse the order of the lines");
    expect(hint("300 1\n200 1\n250 1\n", "db")).toContain("Sort the lines");
    expect(hint("100 1\n300 1\n200 1\n", "db")).toContain("Sort the lines");
    expect(() => readResponseText("x1 2 3\n100 1 2\n", { columns: "re-im" })).toThrow(/must begin with a frequency/);
    expect(readResponseText("x1 2 y\n100 1 2\n200 1 2\n", { columns: "re-im" }).notes[0]).toContain("taken as a header");
    expect(() => readResponseText('"100" 1 2\n', { columns: "re-im" })).toThrow(/without quotation marks/);
    for (const quoted of ['" -100" 1 2', '"+.5" 1 2', '"−,5" 1 2'])
      expect(() => readResponseText(`${quoted}\n`, { columns: "re-im" })).toThrow(/without quotation marks/);
  });
});
