// Tests src/response/: read-impulse-text.ts, read-wav.ts
import { readImpulseText, readWav } from "dividing-network/response";
import { describe, expect, it } from "vitest";

interface Wav {
  tag?: number;
  channels?: number;
  bits: number;
  data: number[];
  extra?: [name: string, bytes: number[]][];
  formatSize?: number;
  frame?: number;
  dataSize?: number;
}

/** Writes a WAV file byte by byte: the samples are given as raw little-endian bytes. */
function wav({
  tag = 1,
  channels = 1,
  bits,
  data,
  extra = [],
  formatSize = 16,
  frame = (channels * bits) / 8,
  dataSize = data.length,
}: Wav): Uint8Array {
  const out: number[] = [];
  const text = (value: string): void => void out.push(...[...value].map((letter) => letter.charCodeAt(0)));
  const le = (value: number, bytes: number): void => {
    for (let i = 0; i < bytes; i++) out.push(Math.floor(value / 256 ** i) % 256);
  };
  text("RIFF");
  le(0, 4);
  text("WAVE");
  for (const [name, bytes] of extra) {
    text(name);
    le(bytes.length, 4);
    out.push(...bytes, ...(bytes.length % 2 ? [0] : []));
  }
  text("fmt ");
  le(formatSize, 4);
  le(tag, 2);
  le(channels, 2);
  le(48000, 4);
  le(48000 * frame, 4);
  le(frame, 2);
  le(bits, 2);
  if (formatSize === 40) {
    le(22, 2);
    le(bits, 2);
    le(0, 4);
    le(bits === 32 ? 3 : 1, 2);
    for (let i = 0; i < 14; i++) out.push(0);
  }
  text("data");
  le(dataSize, 4);
  out.push(...data);
  return Uint8Array.from(out);
}
const bytesOf = (values: number[], write: (view: DataView, at: number, value: number) => void, size: number): number[] => {
  const view = new DataView(new ArrayBuffer(values.length * size));
  values.forEach((value, i) => write(view, i * size, value));
  return [...new Uint8Array(view.buffer)];
};

describe("reading a WAV file", () => {
  it.each([
    ["8-bit", 8, [0, 64, 128, 192], [-1, -0.5, 0, 0.5]],
    ["16-bit", 16, [0x00, 0x80, 0xff, 0x7f, 0x00, 0x40], [-1, 32767 / 32768, 0.5]],
    ["24-bit", 24, [0x00, 0x00, 0x80, 0xff, 0xff, 0x7f, 0x00, 0x00, 0xc0, 0xff, 0xff, 0xff], [-1, 8388607 / 8388608, -0.5, -1 / 8388608]],
    ["32-bit", 32, [0x00, 0x00, 0x00, 0x80, 0x00, 0x00, 0x00, 0x40], [-1, 0.5]],
  ] as const)("takes %s integers as parts of full scale", (_name, bits, data, expected) => {
    const { samples, sampleRate, startTime } = readWav(wav({ bits, data: [...data] }));
    expect([...samples]).toEqual([...expected]);
    expect([sampleRate, startTime]).toEqual([48000, 0]);
  });

  it("takes floating point as it is, 32 and 64 bits, also beyond full scale", () => {
    expect([
      ...readWav(wav({ tag: 3, bits: 32, data: bytesOf([0.5, -2.25, 1e-20], (v, at, x) => v.setFloat32(at, x, true), 4) })).samples,
    ]).toEqual([0.5, -2.25, Math.fround(1e-20)]);
    expect([
      ...readWav(wav({ tag: 3, bits: 64, data: bytesOf([0.1, 1e300], (v, at, x) => v.setFloat64(at, x, true), 8) })).samples,
    ]).toEqual([0.1, 1e300]);
  });

  it("reads the extensible format, unknown chunks of odd length, views into larger buffers, and bare buffers", () => {
    const data = bytesOf([0.25, -0.5], (v, at, x) => v.setFloat32(at, x, true), 4);
    const file = wav({
      tag: 0xfffe,
      bits: 32,
      formatSize: 40,
      data,
      extra: [
        ["LIST", [1, 2, 3]],
        ["junk", []],
      ],
    });
    const larger = new Uint8Array(file.length + 7);
    larger.set(file, 7);
    expect([...readWav(larger.subarray(7)).samples]).toEqual([0.25, -0.5]);
    expect([...readWav(larger.slice(7).buffer, { startTime: "-1 ms" }).samples]).toEqual([0.25, -0.5]);
  });

  it("asks which channel of two", () => {
    const stereo = wav({ bits: 16, channels: 2, data: [0x00, 0x40, 0x00, 0xc0] });
    expect(() => readWav(stereo)).toThrow(/mono, got 2 channels.*option channel/);
    expect([readWav(stereo, { channel: 0 }).samples[0], readWav(stereo, { channel: 1 }).samples[0]]).toEqual([0.5, -0.5]);
    expect(() => readWav(stereo, { channel: 2 })).toThrow(/channel/);
  });

  it.each([
    ["an empty buffer", new Uint8Array(0), /0 bytes/],
    ["another kind of file", new Uint8Array(64).fill(65), /RIFF/],
    ["no data chunk", wav({ bits: 16, data: [] }).subarray(0, 36), /data/],
    ["no format chunk", Uint8Array.from([..."RIFF\0\0\0\0WAVE"].map((letter) => letter.charCodeAt(0))), /fmt/],
    ["data that end before they should", wav({ bits: 16, data: [1, 2, 3, 4], dataSize: 4_000_000_000 }), /end within the file/],
    ["half a frame", wav({ bits: 16, data: [1, 2, 3], dataSize: 3 }), /whole frames/],
    ["no samples", wav({ bits: 16, data: [] }), /at least one/],
    ["compressed samples", wav({ tag: 85, bits: 16, data: [1, 2] }), /format 85/],
    ["twelve bits", wav({ bits: 12, data: [1, 2] }), /12 bits/],
    ["contradicting sizes", wav({ bits: 16, data: [1, 2], frame: 7 }), /consistent/],
    ["samples that are no numbers", wav({ tag: 3, bits: 32, data: [0, 0, 0xc0, 0x7f] }), /finite/],
  ] as const)("refuses %s", (_name, bytes, message) => expect(() => readWav(bytes)).toThrow(message));

  it("never hangs or fails otherwise on bytes at random", () => {
    const good = wav({ bits: 16, data: [1, 2, 3, 4, 5, 6] });
    for (let seed = 0; seed < 2000; seed++) {
      const bad = good.slice(0, 12 + ((seed * 7919) % (good.length - 11)));
      bad[(seed * 104729) % bad.length] = (seed * 31) % 256;
      try {
        expect(readWav(bad).samples.every(Number.isFinite)).toBe(true);
      } catch (error) {
        expect((error as { code: string }).code).toBe("invalid-wav");
      }
    }
    expect(() => readWav("RIFF" as never)).toThrow(/ArrayBuffer/);
  });
});

describe("reading an impulse response from text", () => {
  it("takes one value a line with a sampling rate", () => {
    const { samples, sampleRate, startTime } = readImpulseText("* measured in a garden\n0\n1.5e0\r\n-0.25\n\n+.5\n", {
      sampleRate: "48 kHz",
      startTime: 0.001,
    });
    expect([...samples]).toEqual([0, 1.5, -0.25, 0.5]);
    expect([sampleRate, startTime]).toEqual([48000, 0.001]);
  });

  it.each([
    ["spaces", "0 1\n0.001 2\n0.002 3"],
    ["commas", "time, value\n0.000,1\n0.001,2\n0.002,3"],
    ["semicolons", "t;v\n0;1\n0.001;2\n0.002;3"],
    ["tabs", "0\t1\n0.001\t2\n0.002\t3"],
  ])("takes time and value, separated by %s", (_name, text) => {
    const { samples, sampleRate, startTime } = readImpulseText(text);
    expect([...samples]).toEqual([1, 2, 3]);
    expect([sampleRate, startTime]).toEqual([1000, 0]);
  });

  it("finds the rate behind rounded times", () => {
    const text = Array.from({ length: 1000 }, (_, n) => `${(n / 44100).toFixed(9)} ${n}`).join("\n");
    expect(readImpulseText(text).sampleRate).toBe(44100);
  });

  it.each([
    ["decimal commas", "0,001 0,5\n0,002 0,7", {}, /decimal commas/],
    ["a hole in the times", "0 1\n0.001 2\n0.003 3\n0.004 4", {}, /equally spaced/],
    ["text between numbers", "0 1\n0.001 x", {}, /ir\.txt:2/],
    ["a lone word", "1\n2\nend", { sampleRate: 100 }, /ir\.txt:3/],
    ["three columns", "0 1 2\n1 2 3", {}, /time and value/],
    ["hexadecimal", "0x10\n0x11", { sampleRate: 100 }, /at least one value/],
    ["nothing", "", { sampleRate: 100 }, /at least one value/],
    ["no rate", "1\n2", {}, /sampleRate/],
    ["a rate where times are", "0 1\n1 2", { sampleRate: 1 }, /left out/],
    ["times that descend", "1 1\n0 2", {}, /ascend/],
    ["numbers too large", "1e999\n1", { sampleRate: 100 }, /ir\.txt:1: numbers must be finite/],
  ] as const)("refuses %s", (_name, text, options, message) => {
    expect(() => readImpulseText(text, { ...options, name: "ir.txt" })).toThrow(message);
  });
});
