import { gaussLegendre } from "../../numeric";
import { pointsFor, type Fineness } from "./fineness";
import { acrossAxis, type RelativePlace, type Section } from "./gap";
import { potentialOf } from "./section-potential";

/**
 * Mean mutual inductance of two filaments, one of each winding, divided by µ₀, and the same with all contributions counted as positive. The vector
 * potential of the first, which goes round its axis, is integrated along the turns of the second: Gauss points over its section, equal steps round its
 * turns, and for each point as many Gauss points over the section of the first as its distance asks for.
 */
export function placedMean(
  first: Section,
  second: Section,
  place: RelativePlace,
  gap: number,
  fineness: Fineness,
): readonly [mean: number, gross: number] {
  const { x, z, axis } = place;
  const [n1, n2, n3] = axis;
  const [u, v] = acrossAxis(axis);
  const [u1, u2, u3, v1, v2, v3] = [u[0]!, u[1]!, u[2]!, v[0]!, v[1]!, v[2]!];
  const halfDepth = second.depth / 2;
  const axial = panelRule(panelEdges(first, second, -(x * n1 + z * n3)), gap, fineness);
  const radial = gaussLegendre(halfDepth === 0 ? 1 : pointsFor(fineness.outer, 1 + gap / halfDepth, fineness.extra));
  const coaxial = x === 0 && n1 === 0 && n2 === 0;
  const mirrored = n2 === 0;
  const around = coaxial
    ? 1
    : 2
      * Math.min(
        400,
        Math.ceil((fineness.outer * Math.LN10) / (2 * Math.asinh(gap / (second.meanRadius + halfDepth)))) + 3 + fineness.extra,
      );
  const steps = mirrored && !coaxial ? around / 2 : around;
  let mean = 0;
  let gross = 0;
  for (let i = 0; i < axial.nodes.length; i++) {
    const along = axial.nodes[i]!;
    const [cx, cy, cz] = [x + along * n1, along * n2, z + along * n3];
    for (let j = 0; j < radial.nodes.length; j++) {
      const radius = second.meanRadius + halfDepth * radial.nodes[j]!;
      const weight = (axial.weights[i]! * radial.weights[j]!) / (2 * steps);
      for (let k = 0; k < steps; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / around;
        const cos = radius * Math.cos(angle);
        const sin = radius * Math.sin(angle);
        const px = cx + cos * u1 + sin * v1;
        const py = cy + cos * u2 + sin * v2;
        // x dy − y dx along the turn.
        const swept = px * (cos * v2 - sin * u2) - py * (cos * v1 - sin * u1);
        const value = weight * swept * potentialOf(first, Math.sqrt(px * px + py * py), cz + cos * u3 + sin * v3, fineness);
        mean += value;
        gross += Math.abs(value);
      }
    }
  }
  return [mean, gross];
}

/** A rule for the mean over all pieces: Gauss points in each. */
function panelRule(
  edges: readonly number[],
  gap: number,
  { outer, extra }: Fineness,
): { readonly nodes: readonly number[]; readonly weights: readonly number[] } {
  const whole = edges[edges.length - 1]! - edges[0]!;
  if (whole === 0) return { nodes: [0], weights: [1] };
  const [nodes, weights]: [number[], number[]] = [[], []];
  for (let panel = 1; panel < edges.length; panel++) {
    const half = (edges[panel]! - edges[panel - 1]!) / 2;
    const rule = gaussLegendre(pointsFor(outer, 1 + gap / half, extra));
    for (let i = 0; i < rule.nodes.length; i++) {
      nodes.push(edges[panel - 1]! + half * (1 + rule.nodes[i]!));
      weights.push((rule.weights[i]! * half) / whole);
    }
  }
  return { nodes, weights };
}

/**
 * Cuts the second winding along its axis where it is long: into pieces about as long as the windings are wide beside the first, which lies at `nearest`
 * and may be long itself, and into pieces that double in length away from it.
 */
function panelEdges(first: Section, second: Section, nearest: number): readonly number[] {
  const half = second.length / 2;
  const width = first.meanRadius + second.meanRadius;
  if (half <= width) return [-half, half];
  const step = Math.max(width, first.length / 64);
  const beside = first.length / 2 + step;
  const middle = Math.max(-half, Math.min(half, nearest));
  const edges = [middle];
  for (const side of [1, -1]) {
    const room = half - side * middle;
    for (let at = 0; at < room - 1e-9 * half;) {
      // Nearest to the far end a piece may be half as long again, so that none is a sliver.
      const piece = at < beside ? step : at;
      at = at + 1.5 * piece >= room ? room : at + piece;
      if (side > 0) edges.push(middle + at);
      else edges.unshift(middle - at);
    }
  }
  return edges;
}
