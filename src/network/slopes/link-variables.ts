import type { Circuit } from "../circuit";
import type { LinkPlace } from "../place";
import type { Variable } from "./variable";

/** What links branches without being a branch, among the parts and couplings named: the factors of couplings, and ideal ratios. */
export function linkVariables(
  { couplings, transformers, parts }: Circuit,
  named: ReadonlySet<string>,
): readonly (Variable & { readonly place: LinkPlace })[] {
  return [
    ...couplings.flatMap(({ name, k }, coupling) =>
      named.has(name) && !parts.has(name) ? [{ part: name, parameter: "k", value: k, place: { coupling } }] : [],
    ),
    ...transformers.flatMap(({ part, ratio }, transformer) =>
      named.has(part) ? [{ part, parameter: "ratio", value: ratio, place: { transformer } }] : [],
    ),
  ];
}
