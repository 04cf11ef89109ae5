import { pixelsOf } from "./text-width";

/** A logarithmic frequency axis laid out in px from its left end. */
export interface FrequencyAxis {
  readonly from: number;
  readonly to: number;
  readonly width: number;
  /** Px of a frequency in Hz; −∞ for 0 Hz. */
  readonly position: (frequency: number) => number;
  /** Grid lines: decades are major, 2…9 between them minor. */
  readonly lines: readonly { readonly x: number; readonly frequency: number; readonly major: boolean }[];
  readonly labels: readonly { readonly x: number; readonly text: string }[];
}

interface Multiple {
  readonly digit: number;
  readonly exponent: number;
  readonly frequency: number;
}

/** Lays the axis out; `from` and `to` in Hz are taken as checked: above 0, ascending, at most twelve decades. */
export function frequencyAxis(from: number, to: number, width: number, fontSize: number): FrequencyAxis {
  const start = Math.log10(from);
  const scale = width / (Math.log10(to) - start);
  const position = (frequency: number): number => (Math.log10(frequency) - start) * scale;

  const multiples: Multiple[] = [];
  for (let exponent = Math.floor(start); exponent <= Math.ceil(Math.log10(to)); exponent++) {
    for (let digit = 1; digit <= 9; digit++) {
      const frequency = Number(`${digit}e${exponent}`);
      if (frequency >= from * (1 - 1e-12) && frequency <= to * (1 + 1e-12)) multiples.push({ digit, exponent, frequency });
    }
  }
  return {
    from,
    to,
    width,
    position,
    lines: multiples.map(({ digit, frequency }) => ({ x: position(frequency), frequency, major: digit === 1 })),
    labels: chooseLabels(multiples, from, to, (frequencies, lastNamed) => place(frequencies, lastNamed, position, fontSize)),
  };
}

/** The fullest set of labels that fits: 1-2-5, then the decades and the ends, then fewer of them, at last the bounds. */
function chooseLabels(
  multiples: readonly Multiple[],
  from: number,
  to: number,
  attempt: (frequencies: readonly number[], lastNamed: boolean) => FrequencyAxis["labels"] | undefined,
): FrequencyAxis["labels"] {
  const among = (keep: (multiple: Multiple) => boolean): number[] => multiples.filter(keep).map(({ frequency }) => frequency);
  const oneTwoFive = among(({ digit }) => digit === 1 || digit === 2 || digit === 5);
  const ends = [oneTwoFive[0], oneTwoFive[oneTwoFive.length - 1]];
  const sets = [
    ...(oneTwoFive.length < 3 ? [among(() => true)] : []),
    oneTwoFive,
    among(({ digit, frequency }) => digit === 1 || ends.includes(frequency)),
    among(({ digit }) => digit === 1),
    among(({ digit, exponent }) => digit === 1 && exponent % 2 === 0),
    among(({ digit, exponent }) => digit === 1 && exponent % 3 === 0),
    [from, to],
  ];
  for (const set of sets) {
    for (const lastNamed of [true, false]) {
      const labels = set.length < 2 ? undefined : attempt(set, lastNamed);
      if (labels !== undefined) return labels;
    }
  }
  return [];
}

/**
 * Labels with the unit on the first, the first in kHz and the last; `undefined` when two would touch. Where room is
 * short the last may go without, if another in kHz has it.
 */
function place(
  frequencies: readonly number[],
  lastNamed: boolean,
  position: (frequency: number) => number,
  fontSize: number,
): FrequencyAxis["labels"] | undefined {
  let end = -Infinity;
  const labels: { x: number; text: string }[] = [];
  for (const [index, frequency] of frequencies.entries()) {
    const kilo = frequency >= 1000;
    const firstOfUnit = index === 0 || (kilo && frequencies[index - 1]! < 1000);
    const named = firstOfUnit || (lastNamed && index === frequencies.length - 1);
    const text = `${Number((kilo ? frequency / 1000 : frequency).toPrecision(4))}${named ? (kilo ? " kHz" : " Hz") : ""}`;
    const x = position(frequency);
    const half = pixelsOf(text, fontSize) / 2;
    if (x - half < end + 3) return undefined;
    end = x + half;
    labels.push({ x, text });
  }
  return labels;
}
