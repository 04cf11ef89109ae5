import { DividingNetworkError } from "../errors";
import { checkNumber, checkOptions, show } from "../errors/internal";
import type { Time } from "../quantity";
import { inSi } from "../quantity/internal";
import { freezeImpulse } from "./impulse-response";
import type { ImpulseResponse } from "./sampled-impulse";

const pcm = 1;
const float = 3;
const extensible = 0xfffe;

/**
 * Reads an impulse response from the bytes of a WAV file (RIFF WAVE: integers of 8, 16, 24 or 32 bits, floating point of 32 or 64 bits). Integers are
 * scaled so that full scale is 1, dimensionless; floating-point samples are taken as they are.
 *
 * Chunks may come in any order and unknown ones are skipped. A file that ends before its data do, or whose sizes contradict
 * each other, is refused: a truncated impulse response is not a shorter one.
 *
 * @param bytes the file, as an `ArrayBuffer` or a view of one
 * @param options `channel` (counted from 0) of a file with more than one; `startTime` of the first sample in s, default 0
 * @returns samples (full scale is 1, dimensionless), sampling rate in Hz, start time in s
 * @throws DividingNetworkError `invalid-wav` with what is wrong and where; `invalid-argument`
 * Source: Multimedia Programming Interface and Data Specifications 1.0 (1991), with the extensible format tag.
 * @example
 * ```ts
 * import { readWav } from "dividing-network/response";
 *
 * readWav(new ArrayBuffer(10)); // throws invalid-wav
 * ```
 */
export function readWav(
  bytes: ArrayBuffer | ArrayBufferView,
  options?: { readonly channel?: number | undefined; readonly startTime?: Time | undefined },
): ImpulseResponse {
  const caller = "readWav";
  const { channel, startTime = 0 } = checkOptions(caller, options, ["channel", "startTime"]);
  const start = inSi(caller, "startTime", startTime, "s", { min: -1e6, max: 1e6 });
  const view = viewOf(bytes);
  const wrong = (what: string, hint = ""): DividingNetworkError => new DividingNetworkError("invalid-wav", `${caller}: ${what}`, hint);
  if (view.byteLength < 12 || text(view, 0) !== "RIFF" || text(view, 8) !== "WAVE") {
    throw wrong(
      `"bytes" must begin with RIFF … WAVE, got ${view.byteLength < 12 ? `${view.byteLength} bytes` : show(text(view, 0) + text(view, 8))}`,
      "Export the impulse response as an uncompressed WAV file",
    );
  }
  const { format, data } = chunks(view, wrong);
  if (format === undefined || format.size < 16) throw wrong('the file must have a format chunk "fmt " of at least 16 bytes');
  if (data === undefined) throw wrong('the file must have a "data" chunk');
  let tag = view.getUint16(format.at, true);
  const channels = view.getUint16(format.at + 2, true);
  const sampleRate = view.getUint32(format.at + 4, true);
  const frame = view.getUint16(format.at + 12, true);
  const bits = view.getUint16(format.at + 14, true);
  if (tag === extensible && format.size >= 26) tag = view.getUint16(format.at + 24, true);
  if (!((tag === pcm && [8, 16, 24, 32].includes(bits)) || (tag === float && [32, 64].includes(bits)))) {
    throw wrong(
      `the samples must be integers of 8, 16, 24 or 32 bits or floating point of 32 or 64, got format ${tag} with ${bits} bits`,
      "Export the impulse response as 24-bit or 32-bit float WAV",
    );
  }
  if (channels === 0 || sampleRate === 0 || frame !== (channels * bits) / 8) {
    throw wrong(`the format must be consistent, got ${channels} channels, ${sampleRate} Hz, ${bits} bits in frames of ${frame} bytes`);
  }
  if (channel === undefined && channels > 1)
    throw wrong(`the file must be mono, got ${channels} channels`, "Choose one with the option channel: 0 is the first");
  const chosen = channel === undefined ? 0 : checkNumber(caller, "channel", channel, { min: 0, max: channels - 1, integer: true });
  const count = data.size / frame;
  if (!Number.isInteger(count) || count === 0)
    throw wrong(`the data must be whole frames of ${frame} bytes, at least one, got ${data.size} bytes`);
  const samples = new Float64Array(count);
  const read = reader(view, tag, bits);
  for (let n = 0; n < count; n++) {
    const value = read(data.at + n * frame + (chosen * bits) / 8);
    if (!Number.isFinite(value)) throw wrong(`the samples must be finite numbers, got ${value} in frame ${n}`);
    samples[n] = value;
  }
  return freezeImpulse(samples, sampleRate, start);
}

function viewOf(bytes: unknown): DataView {
  if (ArrayBuffer.isView(bytes)) return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (Object.prototype.toString.call(bytes) === "[object ArrayBuffer]") return new DataView(bytes as ArrayBuffer);
  throw new DividingNetworkError("invalid-argument", `readWav: "bytes" must be an ArrayBuffer or a view of one, got ${show(bytes)}`);
}

function text(view: DataView, at: number): string {
  return String.fromCharCode(view.getUint8(at), view.getUint8(at + 1), view.getUint8(at + 2), view.getUint8(at + 3));
}

interface Chunk {
  readonly at: number;
  readonly size: number;
}

function chunks(view: DataView, wrong: (what: string) => DividingNetworkError): { format: Chunk | undefined; data: Chunk | undefined } {
  let format: Chunk | undefined;
  let data: Chunk | undefined;
  let at = 12;
  while (at + 8 <= view.byteLength) {
    const name = text(view, at);
    const size = view.getUint32(at + 4, true);
    if (at + 8 + size > view.byteLength)
      throw wrong(
        `chunk ${show(name)} at byte ${at} must end within the file, got ${size} bytes where ${view.byteLength - at - 8} are left`,
      );
    if (name === "fmt ") format ??= { at: at + 8, size };
    if (name === "data") data ??= { at: at + 8, size };
    at += 8 + size + (size % 2);
  }
  return { format, data };
}

function reader(view: DataView, tag: number, bits: number): (at: number) => number {
  if (tag === float) return bits === 32 ? (at) => view.getFloat32(at, true) : (at) => view.getFloat64(at, true);
  if (bits === 8) return (at) => (view.getUint8(at) - 128) / 128;
  if (bits === 16) return (at) => view.getInt16(at, true) / 2 ** 15;
  if (bits === 24) return (at) => (view.getInt8(at + 2) * 2 ** 16 + view.getUint16(at, true)) / 2 ** 23;
  return (at) => view.getInt32(at, true) / 2 ** 31;
}
