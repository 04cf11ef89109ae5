import { DividingNetworkError } from "../../errors";
import type { ComplexArrays } from "../../numeric";
import { zeros } from "../../numeric/internal";
import type { SourceResponse } from "./source";

/** V(in) per volt of the source, 1/(1 + Z·Y), from the input admittance (S) at frequencies in Hz; undefined when it is 1 everywhere. */
export function sourceScale(admittance: () => ComplexArrays, source: SourceResponse, frequencies: Float64Array): ComplexArrays | undefined {
  if (source === undefined) return undefined;
  const { re, im } = zeros(frequencies.length);
  const { re: inputRe, im: inputIm } = admittance();
  for (let i = 0; i < frequencies.length; i++) {
    const [zr, zi, yr, yi] = [source.re[i]!, source.im[i]!, inputRe[i]!, inputIm[i]!];
    const dr = 1 + (zr * yr - zi * yi);
    const di = zr * yi + zi * yr;
    const size = dr * dr + di * di;
    if (!(size > 0))
      throw new DividingNetworkError(
        "no-solution",
        `solve: the source's impedance and the network's cancel at ${frequencies[i]} Hz`,
        "An amplifier's output impedance has a real part of 0 Ω or more: check `sourceImpedance`",
      );
    re[i] = dr / size;
    im[i] = -di / size;
  }
  return { re, im };
}

/** Whether a source's impedance could cancel the network's, so that there is no solution: only one that gives power can. */
export function mayCancel(source: SourceResponse): boolean {
  return source !== undefined && source.re.some((resistance) => !(resistance >= 0));
}
