import { DividingNetworkError } from "../errors";
import { checkOneOf, checkOptions } from "../errors/internal";
import { checkImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

/** How `writeWav` writes samples. */
export interface WriteWavOptions {
  /** `"float-32"` (default), `"pcm-24"` or `"pcm-16"`: floating point, or integers of so many bits. */
  readonly format?: "float-32" | "pcm-24" | "pcm-16" | undefined;
}

const formats = {
  "float-32": { tag: 3, bits: 32 },
  "pcm-24": { tag: 1, bits: 24 },
  "pcm-16": { tag: 1, bits: 16 },
} as const;

/**
 * Writes an impulse response as the bytes of a mono WAV file (RIFF WAVE) that `readWav` reads. Full scale is 1, dimensionless.
 * Integers are rounded to the nearest step, without dither; what lies beyond full scale is refused, never clipped. Floating point
 * holds some seven digits and any level. A WAV file doesn't hold the start time: give it to `readWav` again.
 *
 * @param impulse samples (full scale is 1, dimensionless), sampling rate a whole number of Hz
 * @param options `format` of the samples
 * @returns the bytes of the file
 * @throws DividingNetworkError `clipping` for a sample beyond what the format holds; `invalid-impulse` for a rate that isn't whole, for
 * samples that aren't finite, and for more than 4 GB of them; `invalid-argument`, `unknown-option`
 * Source: Multimedia Programming Interface and Data Specifications 1.0 (1991).
 * @example
 * ```ts
 * import { impulseResponse, readWav, writeWav } from "dividing-network/response";
 *
 * const impulse = impulseResponse([0, 0.5, -0.25], { sampleRate: "48 kHz" });
 * readWav(writeWav(impulse, { format: "pcm-24" })).samples; // [0, 0.5, -0.25]
 * writeWav(impulseResponse([1], { sampleRate: "48 kHz" }), { format: "pcm-16" }); // throws clipping
 * ```
 */
export function writeWav(impulse: ImpulseResponse, options?: WriteWavOptions): Uint8Array {
  const caller = "writeWav";
  const { samples, sampleRate } = checkImpulse(caller, "impulse", impulse);
  const { format = "float-32" } = checkOptions(caller, options, ["format"]);
  checkOneOf(caller, "format", format, ["float-32", "pcm-24", "pcm-16"]);
  const { tag, bits } = formats[format];
  const frame = bits / 8;
  if (!(Number.isInteger(sampleRate) && sampleRate * frame < 2 ** 32)) {
    throw new DividingNetworkError(
      "invalid-impulse",
      `${caller}: "impulse.sampleRate" must be a whole number of Hz below ${Math.ceil(2 ** 32 / frame)}, as a WAV file holds it, got ${sampleRate}`,
      "Resample it, or write it with writeImpulseText",
    );
  }
  const size = samples.length * frame;
  // Formats other than integers carry the length of their extension, and the number of samples in a chunk of its own.
  const head = tag === 1 ? 44 : 58;
  const length = head + size + (size % 2);
  if (length - 8 >= 2 ** 32)
    throw new DividingNetworkError(
      "invalid-impulse",
      `${caller}: "impulse" must fit into a WAV file of less than 4 GB, got ${samples.length} samples`,
      "Cut it, or write it in pieces",
    );
  const view = new DataView(new ArrayBuffer(length));
  let at = 0;
  const text = (word: string): void => {
    for (const letter of word) view.setUint8(at++, letter.charCodeAt(0));
  };
  const two = (value: number): void => {
    view.setUint16(at, value, true);
    at += 2;
  };
  const four = (value: number): void => {
    view.setUint32(at, value, true);
    at += 4;
  };
  text("RIFF");
  four(length - 8);
  text("WAVE");
  text("fmt ");
  four(tag === 1 ? 16 : 18);
  two(tag);
  two(1);
  four(sampleRate);
  four(sampleRate * frame);
  two(frame);
  two(bits);
  if (tag !== 1) {
    two(0);
    text("fact");
    four(4);
    four(samples.length);
  }
  text("data");
  four(size);
  const write = writer(caller, view, bits);
  for (let n = 0; n < samples.length; n++) write(head + n * frame, samples[n]!, n);
  return new Uint8Array(view.buffer);
}

function writer(caller: string, view: DataView, bits: 16 | 24 | 32): (at: number, value: number, n: number) => void {
  const refuse = (value: number, n: number, range: string): never => {
    throw new DividingNetworkError(
      "clipping",
      `${caller}: "impulse.samples" must be ${range}, got ${value} at index ${n}`,
      'Divide the samples by their largest size and remember the factor, or write format: "float-32"',
    );
  };
  if (bits === 32) {
    return (at, value, n) => {
      if (!Number.isFinite(Math.fround(value))) refuse(value, n, "below 3.4e38 in size, as 32-bit floating point holds them");
      view.setFloat32(at, value, true);
    };
  }
  const full = 2 ** (bits - 1);
  return (at, value, n) => {
    const step = Math.round(value * full);
    if (!(step >= -full && step < full)) refuse(value, n, `between -1 and ${1 - 1 / full}, as ${bits}-bit integers hold them`);
    if (bits === 16) view.setInt16(at, step, true);
    else {
      view.setUint16(at, step & 0xffff, true);
      view.setInt8(at + 2, step >> 16);
    }
  };
}
