import { gaussLegendre } from "../../numeric";
import { pointsFor, type Fineness } from "./fineness";
import type { Section } from "./gap";
import { loopPotential } from "./loop";

/** Where Gauss points for the digits asked for would be more than this, the interval is cut next to the point and graded towards it. */
const MOST_POINTS = 12;
const GRADED = 11;
const radialRule = /* @__PURE__ */ sectionRule();
const axialRule = /* @__PURE__ */ sectionRule();

interface SectionRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
  count: number;
}

function sectionRule(): SectionRule {
  return { nodes: new Float64Array(4 * GRADED), weights: new Float64Array(4 * GRADED), count: 0 };
}

/** Writes a rule for the mean over −half … half of what is singular at the distance `aside` from `at`. */
function fillRule(rule: SectionRule, half: number, at: number, aside: number, { inner, extra }: Fineness): void {
  rule.count = 0;
  if (half === 0) {
    [rule.nodes[0], rule.weights[0], rule.count] = [0, 1, 1];
    return;
  }
  const axis = (Math.sqrt((at - half) ** 2 + aside * aside) + Math.sqrt((at + half) ** 2 + aside * aside)) / (2 * half);
  const points = pointsFor(inner, axis, extra);
  if (points <= MOST_POINTS) {
    const { nodes, weights } = gaussLegendre(points);
    for (let i = 0; i < points; i++) {
      rule.nodes[i] = half * nodes[i]!;
      rule.weights[i] = weights[i]! / 2;
    }
    rule.count = points;
    return;
  }
  const { nodes, weights } = gaussLegendre(GRADED + extra);
  const cut = Math.min(Math.max(at, -half), half);
  for (const span of [half - cut, -half - cut]) {
    if (Math.abs(span) < 1e-9 * half) continue;
    for (let i = 0; i < nodes.length; i++) {
      const t = (1 + nodes[i]!) / 2;
      rule.nodes[rule.count] = cut + span * t * t * t;
      rule.weights[rule.count] = (weights[i]! * 3 * t * t * Math.abs(span)) / (4 * half);
      rule.count += 1;
    }
  }
}

/** Mean of `loopPotential` over the section of a winding at a point. */
export function potentialOf({ meanRadius, length, depth }: Section, radius: number, z: number, fineness: Fineness): number {
  fillRule(radialRule, depth / 2, radius - meanRadius, Math.max(Math.abs(z) - length / 2, 0), fineness);
  fillRule(axialRule, length / 2, z, Math.max(Math.abs(radius - meanRadius) - depth / 2, 0), fineness);
  let sum = 0;
  for (let i = 0; i < radialRule.count; i++) {
    const a = meanRadius + radialRule.nodes[i]!;
    let along = 0;
    for (let k = 0; k < axialRule.count; k++) along += axialRule.weights[k]! * loopPotential(a, radius, z - axialRule.nodes[k]!);
    sum += radialRule.weights[i]! * along;
  }
  return sum;
}
