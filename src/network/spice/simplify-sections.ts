import { deviation, type SampledImpedance, type Section } from "./section";

/** Leaves out of each section what makes no difference in the band: a coil beside a resistance that is shorted by it only far below, and the like. */
export function simplified(sections: readonly Section[], asked: SampledImpedance, allowed: number): Section[] {
  let now = [...sections];
  for (let i = 0; i < now.length; i++) {
    const { r, l, c } = now[i]!;
    if ([r, l, c].filter((value) => value !== undefined).length < 2) continue;
    for (const [key, value] of [
      ["r", r],
      ["l", l],
      ["c", c],
    ] as const) {
      if (value === undefined || Object.keys(now[i]!).length < 2) continue;
      const { [key]: _, ...fewer } = now[i]!;
      const tried = now.map((each, at) => (at === i ? fewer : each));
      if (deviation(tried, asked) <= allowed) now = tried;
    }
  }
  return merged(now);
}

/** Resistors, coils and capacitors that stand alone, as one of each. */
function merged(sections: readonly Section[]): Section[] {
  const alone = (key: "r" | "l" | "c"): number[] =>
    sections.flatMap((section) => (Object.keys(section).length === 1 && section[key] !== undefined ? [section[key]] : []));
  const sum = (values: readonly number[]): number => Number(values.reduce((total, value) => total + value, 0).toPrecision(6));
  const [r, l, c] = [sum(alone("r")), sum(alone("l")), sum(alone("c").map((value) => 1 / value))];
  return [
    ...(r > 0 ? [{ r }] : []),
    ...(l > 0 ? [{ l }] : []),
    ...(c > 0 ? [{ c: Number((1 / c).toPrecision(6)) }] : []),
    ...sections.filter((section) => Object.keys(section).length > 1),
  ];
}
