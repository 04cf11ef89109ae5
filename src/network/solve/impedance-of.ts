import { DividingNetworkError } from "../../errors";
import type { ComplexArrays } from "../../numeric";
import { zeros } from "../../numeric/internal";

/** 1/Y of admittances (S) at frequencies in Hz. */
export function impedanceOf({ re: ar, im: ai }: ComplexArrays, frequencies: Float64Array): ComplexArrays {
  const { re, im } = zeros(ar.length);
  for (let i = 0; i < ar.length; i++) {
    if (ar[i] === 0 && ai[i] === 0)
      throw new DividingNetworkError(
        "infinite-impedance",
        `solve: no current flows at ${frequencies[i]} Hz, so that the impedance is infinite there`,
        "Use `admittance`, which is 0 there, or leave this frequency out",
      );
    // After Smith (1962): 1/Y of a conductance alone is exactly the resistance.
    if (Math.abs(ar[i]!) >= Math.abs(ai[i]!)) {
      const ratio = ai[i]! / ar[i]!;
      re[i] = 1 / (ar[i]! + ai[i]! * ratio);
      im[i] = -ratio * re[i]!;
    } else {
      const ratio = ar[i]! / ai[i]!;
      im[i] = -1 / (ai[i]! + ar[i]! * ratio);
      re[i] = -ratio * im[i]!;
    }
  }
  return { re, im };
}
