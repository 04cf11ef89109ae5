// Tests src/response/: write-impulse-text.ts, write-wav.ts
// Impulse responses as WAV files and text. The bytes are laid out by hand after the RIFF/WAVE description (Multimedia Programming
// Interface and Data Specifications 1.0, 1991, "Waveform Audio File Format"), cited from memory: chunk name, size in four bytes, low byte
// first, contents, a byte of padding after an odd number; "fmt " holds tag, channels, rate, bytes per second, bytes per frame, bits.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { impulseResponse, readImpulseText, readWav, writeImpulseText, writeWav } from "dividing-network/response";
import { cases } from "../support/cases";
import { uniform } from "../support/uniform";

const hex = (bytes: Uint8Array): string => Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join(" ");
const ascii = (word: string): string => Array.from(word, (letter) => letter.charCodeAt(0).toString(16)).join(" ");
const made = (samples: readonly number[], sampleRate = 48000, startTime = 0) => impulseResponse(samples, { sampleRate, startTime });

describe("the bytes of a WAV file", () => {
  it("are those of the description for 16-bit integers", () => {
    // 48 000 = 0xbb80, twice that per second = 0x017700; half of full scale is 0x4000, full scale down 0x8000.
    expect(hex(writeWav(made([0.5, -1]), { format: "pcm-16" }))).toBe(
      [
        ascii("RIFF"),
        "28 00 00 00",
        ascii("WAVE"),
        ascii("fmt "),
        "10 00 00 00",
        "01 00",
        "01 00",
        "80 bb 00 00",
        "00 77 01 00",
        "02 00",
        "10 00",
        ascii("data"),
        "04 00 00 00",
        "00 40",
        "00 80",
      ].join(" "),
    );
  });

  it("are padded to an even number for 24-bit integers, and the padding counts in the whole but not in the data", () => {
    // 44 100 = 0xac44, three times that = 0x0204cc. One step below zero is ff ff ff.
    expect(hex(writeWav(made([-1 / 2 ** 23], 44100), { format: "pcm-24" }))).toBe(
      [
        ascii("RIFF"),
        "28 00 00 00",
        ascii("WAVE"),
        ascii("fmt "),
        "10 00 00 00",
        "01 00",
        "01 00",
        "44 ac 00 00",
        "cc 04 02 00",
        "03 00",
        "18 00",
        ascii("data"),
        "03 00 00 00",
        "ff ff ff",
        "00",
      ].join(" "),
    );
  });

  it("carry a fact chunk and the length of the extension for floating point", () => {
    // IEEE 754 single: 1 is 0x3f800000, -2.5 is 0xc0200000. 50 + 8 bytes follow the size.
    expect(hex(writeWav(made([1, -2.5])))).toBe(
      [
        ascii("RIFF"),
        "3a 00 00 00",
        ascii("WAVE"),
        ascii("fmt "),
        "12 00 00 00",
        "03 00",
        "01 00",
        "80 bb 00 00",
        "00 ee 02 00",
        "04 00",
        "20 00",
        "00 00",
        ascii("fact"),
        "04 00 00 00",
        "02 00 00 00",
        ascii("data"),
        "08 00 00 00",
        "00 00 80 3f",
        "00 00 20 c0",
      ].join(" "),
    );
  });
});

describe("a WAV file read back", () => {
  it("holds every step of its integers exactly, and other values to half a step", () => {
    for (const [format, bits] of [
      ["pcm-16", 16],
      ["pcm-24", 24],
    ] as const) {
      const full = 2 ** (bits - 1);
      const edges = [-full, -full + 1, -65537, -65536, -257, -1, 0, 1, 255, 256, 32767, full - 2, full - 1].filter(
        (step) => step >= -full && step < full,
      );
      expect(Array.from(readWav(writeWav(made(edges.map((step) => step / full)), { format })).samples, (value) => value * full)).toEqual(
        edges,
      );
      fc.assert(
        fc.property(fc.array(uniform(-1, 1 - 0.6 / full), { minLength: 1 }), fc.integer({ min: 1, max: 10 ** 9 }), (samples, rate) => {
          const again = readWav(writeWav(made(samples, rate), { format }), { startTime: -0.25 });
          expect([again.sampleRate, again.startTime, again.samples.length]).toEqual([rate, -0.25, samples.length]);
          for (const [n, value] of samples.entries()) expect(Math.abs(again.samples[n]! - value) * full).toBeLessThanOrEqual(0.5);
        }),
        { numRuns: cases(100) },
      );
    }
  });

  it("holds floating point to the nearest single, also beyond full scale", () => {
    fc.assert(
      fc.property(fc.array(fc.float({ noNaN: true, noDefaultInfinity: true }), { minLength: 1 }), (samples) => {
        expect(Array.from(readWav(writeWav(made(samples))).samples)).toEqual(samples);
      }),
      { numRuns: cases(200) },
    );
    expect(readWav(writeWav(made([0.1, 1e30]))).samples).toEqual(Float64Array.of(Math.fround(0.1), Math.fround(1e30)));
  });
});

describe("what a WAV file cannot hold is refused", () => {
  it("a sample that would clip, said with its index and the way out", () => {
    expect(() => writeWav(made([0, 1]), { format: "pcm-16" })).toThrow(expect.objectContaining({ code: "clipping" }));
    expect(() => writeWav(made([0, 1]), { format: "pcm-16" })).toThrow(
      /between -1 and 0\.999969482421875, as 16-bit integers hold them, got 1 at index 1.*float-32/,
    );
    expect(() => writeWav(made([-1 - 1 / 2 ** 23]), { format: "pcm-24" })).toThrow(/24-bit/);
    // Less than half a step beyond full scale rounds to full scale.
    expect(readWav(writeWav(made([-1 - 0.4 / 2 ** 23, 1 - 1.4 / 2 ** 23]), { format: "pcm-24" })).samples).toEqual(
      Float64Array.of(-1, 1 - 1 / 2 ** 23),
    );
    expect(() => writeWav(made([4e38]))).toThrow(/3\.4e38/);
  });

  it("a rate that is no whole number of hertz, samples that are no numbers, formats and options that aren't known", () => {
    expect(() => writeWav(made([0], 44100.5))).toThrow(/whole number of Hz.*got 44100\.5/);
    for (const format of ["float-32", "pcm-24", "pcm-16"] as const) {
      for (const value of [NaN, Infinity])
        expect(() => writeWav({ samples: Float64Array.of(value), sampleRate: 48000, startTime: 0 }, { format })).toThrow(
          expect.objectContaining({ code: "invalid-impulse" }),
        );
    }
    expect(() => writeWav(made([0]), { format: "pcm-8" as "pcm-16" })).toThrow(/"format" must be one of/);
    expect(() => writeWav(made([0]), { bits: 16 } as object)).toThrow(/unknown option "bits"/);
    expect(() => writeWav([0] as never)).toThrow(/ImpulseResponse/);
  });
});

describe("an impulse response as text", () => {
  const sample = fc.double({ noNaN: true, noDefaultInfinity: true });

  it("says what its columns are, and writes one line a sample", () => {
    expect(writeImpulseText(made([0, 1, 0.5], 1000, 0.25), { comment: "a room, 2,5 m away" })).toBe(
      "# a room, 2,5 m away\n# time (s) and value, decimal points (0.5)\n0.25\t0\n0.251\t1\n0.252\t0.5\n",
    );
    expect(writeImpulseText(made([0, 1], 44100, -0.5), { columns: "value" })).toBe(
      "# value, sampling rate 44100 Hz, first sample at -0.5 s, decimal points (0.5)\n0\n1\n",
    );
  });

  it("comes back bit for bit, times and values, at whole rates", () => {
    fc.assert(
      fc.property(
        fc.array(sample, { minLength: 2 }),
        fc.integer({ min: 1, max: 400_000 }),
        uniform(-2, 2),
        fc.constantFrom("\t", " ", ";"),
        (samples, rate, startTime, separator) => {
          const again = readImpulseText(writeImpulseText(made(samples, rate, startTime), { separator, comment: "1,2" }));
          expect([...again.samples]).toEqual(samples);
          expect([again.sampleRate, again.startTime]).toEqual([rate, startTime]);
        },
      ),
      { numRuns: cases(200) },
    );
  });

  it("comes back bit for bit from values alone, at any rate, with a single sample too", () => {
    fc.assert(
      fc.property(fc.array(sample, { minLength: 1 }), uniform(0.001, 1e6), (samples, sampleRate) => {
        const again = readImpulseText(writeImpulseText(made(samples, sampleRate, 0.1), { columns: "value" }), {
          sampleRate,
          startTime: 0.1,
        });
        expect(again).toEqual(made(samples, sampleRate, 0.1));
      }),
      { numRuns: cases(100) },
    );
  });

  it("refuses times that would give another rate: one sample, a start too far away, a rate next to a whole one", () => {
    for (const impulse of [made([1]), made([0, 1, 2], 1e9, 1e6), made([0, 1, 2], 44100.01)]) {
      expect(() => writeImpulseText(impulse)).toThrow(expect.objectContaining({ code: "times-not-readable" }));
      expect(() => writeImpulseText(impulse, { columns: "value" })).not.toThrow();
    }
    expect(readImpulseText(writeImpulseText(made([0, 1, 2], 44100.5))).sampleRate / 44100.5 - 1).toBeCloseTo(0, 9);
  });

  it("refuses options that aren't known, and samples that are no numbers", () => {
    expect(() => writeImpulseText(made([1, 2]), { separator: "," as ";" })).toThrow(/"separator" must be one of/);
    expect(() => writeImpulseText(made([1, 2]), { columns: "both" as "value" })).toThrow(/"columns"/);
    expect(() => writeImpulseText({ samples: Float64Array.of(0, NaN), sampleRate: 10, startTime: 0 })).toThrow(
      /finite samples, got NaN at index 1/,
    );
  });
});
