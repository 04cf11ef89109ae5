import type { Coupling, Inductor } from "../parts";

/** Any text, beside which an editor still proposes the names that are known: a plain `string` would swallow them. */
type AnyText = string & Record<never, never>;

/** The parts whose designators the compiler knows: every key but those of couplings, and but an index signature. */
type KnownPart<T> = keyof {
  [K in keyof T as string extends K ? never : Exclude<T[K], undefined> extends readonly [Coupling, ...unknown[]] ? never : K & string]: 1;
};

/** Every node name that occurs; `string` where one of them is known only at run time. */
type NodeAnywhere<T> = {
  [K in keyof T]-?: Exclude<T[K], undefined> extends readonly [infer P, ...infer N extends readonly string[]]
    ? P extends Coupling
      ? never
      : N[number]
    : string extends K
      ? string
      : never;
}[keyof T]
  & string;

/** The names as a list of their own, so that messages show them and not where they come from: there and back, or it would stay the same. */
type Listed<S extends string> = keyof { [K in `${S}!` as K extends `${infer N}!` ? N : never]: 1 };

/**
 * The designators of a network's parts: every key but those of couplings, which have no voltage or current. Of a network
 * with keys that are known only at run time: any text.
 */
export type PartName<T> = string extends keyof T
  ? [KnownPart<T>] extends [never]
    ? string
    : KnownPart<T> | AnyText
  : Listed<KnownPart<T>>;

/** Whatever has a value: the parts, and the couplings of coils. */
export type PartOrCouplingName<T> = string extends keyof T
  ? [KnownPart<T>] extends [never]
    ? string
    : KnownPart<T> | AnyText
  : Listed<keyof T & string>;

/** The node names that occur in a network; any text, where one of them is known only at run time. */
export type NodeName<T> = string extends NodeAnywhere<T> ? string : Listed<NodeAnywhere<T>>;

/** What has a voltage: a node or a part. */
export type NodeOrPartName<T> = string extends keyof T | NodeAnywhere<T>
  ? [KnownPart<T>] extends [never]
    ? string
    : KnownPart<T> | AnyText
  : Listed<NodeAnywhere<T> | KnownPart<T> | "in" | "gnd">;

/** The node names that the compiler knows: none, when one of them is known only at run time. */
export type KnownNode<T> = string extends NodeAnywhere<T> ? never : NodeAnywhere<T>;

/** The designators of a network's coils. */
export type CoilName<T> = keyof {
  [K in keyof T as Exclude<T[K], undefined> extends readonly [Inductor, ...unknown[]] ? K & string : never]: 1;
};
