/** The section of a winding, lengths in m. */
export interface Section {
  /** m, from the axis to the middle of the section. */
  readonly meanRadius: number;
  /** m, along the axis. */
  readonly length: number;
  /** m, from the innermost to the outermost turn. */
  readonly depth: number;
}

/** Where the second winding is in the frame of the first: its centre at x, 0, z and the direction of its axis. */
export interface RelativePlace {
  readonly x: number;
  readonly z: number;
  readonly axis: readonly [number, number, number];
}

/** Distance of a point of the half-plane of radius and height from a rectangle there; −1 well inside. */
function distanceTo(radius: number, z: number, section: Section): number {
  const beside = Math.abs(radius - section.meanRadius) - section.depth / 2;
  const above = Math.abs(z) - section.length / 2;
  if (Math.max(beside, above) < -1e-9 * section.meanRadius) return -1;
  return Math.hypot(Math.max(beside, 0), Math.max(above, 0));
}

/** Two unit vectors across an axis, u × v = axis; where the axis has no y, v is y, so that the two halves of a turn mirror each other. */
export function acrossAxis([n1, n2, n3]: readonly [number, number, number]): readonly [readonly number[], readonly number[]] {
  const [e1, e2, e3] = Math.abs(n2) < 0.9 ? [0, 1, 0] : [0, 0, 1];
  const along = e1 * n1 + e2 * n2 + e3 * n3;
  const v = [e1 - along * n1, e2 - along * n2, e3 - along * n3];
  const size = Math.hypot(v[0]!, v[1]!, v[2]!);
  const [v1, v2, v3] = v.map((each) => each / size) as [number, number, number];
  return [
    [v2 * n3 - v3 * n2, v3 * n1 - v1 * n3, v1 * n2 - v2 * n1],
    [v1, v2, v3],
  ];
}

/** The smallest distance from points spread over the second winding, its surface among them, to the first; −1 when one of them lies in it. */
export function gapBetween(first: Section, second: Section, { x, z, axis }: RelativePlace): number {
  const [u, v] = acrossAxis(axis);
  // Steps shorter than the first's section, so that a turn doesn't pass through it between two of them.
  const across = Math.min(first.length, first.depth) || Math.max(first.length, first.depth);
  const steps = Math.max(48, Math.min(192, Math.ceil((2 * Math.PI * second.meanRadius) / (across / 2))));
  let smallest = Infinity;
  for (let i = -4; i <= 4; i++) {
    for (let j = -2; j <= 2; j++) {
      const along = (i * second.length) / 8;
      const radius = second.meanRadius + (j * second.depth) / 4;
      for (let k = 0; k < steps; k++) {
        const cos = radius * Math.cos((2 * Math.PI * k) / steps);
        const sin = radius * Math.sin((2 * Math.PI * k) / steps);
        const px = x + along * axis[0] + cos * u[0]! + sin * v[0]!;
        const py = along * axis[1] + cos * u[1]! + sin * v[1]!;
        const pz = z + along * axis[2] + cos * u[2]! + sin * v[2]!;
        smallest = Math.min(smallest, distanceTo(Math.hypot(px, py), pz, first));
      }
    }
  }
  return smallest;
}
