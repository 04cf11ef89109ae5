// Inductances by routes that share nothing with the library's: Neumann's double integral for coils apart, and for the self-inductance of a section
// the order of integration turned round (both distances along the axis in closed form, the angle between two filaments last). Divided by µ₀.
import { gaussLegendre } from "dividing-network/numeric";

export interface Shape {
  readonly meanRadius: number;
  readonly length: number;
  readonly depth: number;
}

/** Centre and axis of the second coil. */
export interface Place {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly axis?: { readonly x: number; readonly y: number; readonly z: number };
}

/** ∮∮ dl·dl′/(4πR), by equal steps round both circles, averaged over Gauss points of both sections. */
export function neumannMean(a: Shape, b: Shape, place: Place, points = 5, around = 48): number {
  const { x: ax, y: ay, z: az } = place.axis ?? { x: 0, y: 0, z: 1 };
  const size = Math.hypot(ax, ay, az);
  const n = [ax / size, ay / size, az / size];
  // Any vector across the axis will do.
  const helper = Math.abs(n[2]!) > 0.7 ? [1, 0, 0] : [0, 0, 1];
  const raw = [n[1]! * helper[2]! - n[2]! * helper[1]!, n[2]! * helper[0]! - n[0]! * helper[2]!, n[0]! * helper[1]! - n[1]! * helper[0]!];
  const u = raw.map((each) => each / Math.hypot(...raw));
  const v = [n[1]! * u[2]! - n[2]! * u[1]!, n[2]! * u[0]! - n[0]! * u[2]!, n[0]! * u[1]! - n[1]! * u[0]!];
  const turn = Array.from(
    { length: around },
    (_, k) => [Math.cos((2 * Math.PI * k) / around), Math.sin((2 * Math.PI * k) / around)] as const,
  );
  const { nodes, weights } = gaussLegendre(points);
  const filaments = (shape: Shape) =>
    [...nodes].flatMap((s, i) =>
      [...nodes].map((t, j) => ({
        radius: shape.meanRadius + (shape.depth / 2) * s,
        along: (shape.length / 2) * t,
        weight: (weights[i]! * weights[j]!) / 4,
      })),
    );
  let sum = 0;
  for (const one of filaments(a)) {
    for (const other of filaments(b)) {
      const [cx, cy, cz] = [place.x + other.along * n[0]!, place.y + other.along * n[1]!, place.z + other.along * n[2]! - one.along];
      let ring = 0;
      for (let j = 0; j < around; j++) {
        const [c2, s2] = turn[j]!;
        const px = cx + other.radius * (c2 * u[0]! + s2 * v[0]!);
        const py = cy + other.radius * (c2 * u[1]! + s2 * v[1]!);
        const pz = cz + other.radius * (c2 * u[2]! + s2 * v[2]!);
        const dx = c2 * v[0]! - s2 * u[0]!;
        const dy = c2 * v[1]! - s2 * u[1]!;
        for (let i = 0; i < around; i++) {
          const [c1, s1] = turn[i]!;
          const x = px - one.radius * c1;
          const y = py - one.radius * s1;
          ring += (c1 * dy - s1 * dx) / Math.sqrt(x * x + y * y + pz * pz);
        }
      }
      sum += one.weight * other.weight * one.radius * other.radius * ring;
    }
  }
  return (sum * ((2 * Math.PI) / around) ** 2) / (4 * Math.PI);
}

/** Self-inductance of one turn spread over a section of mean radius 1. */
export function selfByAngle(length: number, depth: number, points = 26): number {
  const rule = gaussLegendre(points);
  const t = [...rule.nodes].map((node) => (1 + node) / 2);
  const w = [...rule.weights].map((weight) => weight / 2);
  /** ∫ dc ab·cos φ times the closed form of ∫∫ dz dz′/R, for radii c ± u/2. */
  const inner = (u: number, phi: number): number => {
    let sum = 0;
    for (let i = 0; i < points; i++) {
      const c = 1 - depth / 2 + u / 2 + (depth - u) * t[i]! ** 2;
      const product = (c - u / 2) * (c + u / 2);
      const q = Math.sqrt(u * u + 4 * product * Math.sin(phi / 2) ** 2);
      sum +=
        w[i]!
        * 2
        * t[i]!
        * (depth - u)
        * product
        * Math.cos(phi)
        * 2
        * (length * Math.asinh(length / q) - Math.sqrt(length * length + q * q) + q);
    }
    return sum;
  };
  let total = 0;
  let phi = Math.PI;
  while (phi > 1.5 * depth) {
    for (let i = 0; i < points; i++)
      for (let k = 0; k < points; k++) total += (w[i]! * w[k]! * inner(depth * t[i]!, (phi / 2) * (1 + t[k]!)) * depth * phi) / 2;
    phi /= 2;
  }
  for (let i = 0; i < points; i++) {
    const x = t[i]! ** 5;
    const outer = w[i]! * 5 * t[i]! ** 4 * x * depth * phi;
    for (let k = 0; k < points; k++) total += outer * w[k]! * (inner(x * depth, x * t[k]! * phi) + inner(x * t[k]! * depth, x * phi));
  }
  return (2 * total) / (length * length * depth * depth);
}
