import type { Coupling, CustomPart, LPad, Transformer, TwoTerminalPart } from "../parts";
import type { Entries } from "./entries";
import type { CoilName, KnownNode, NodeName } from "./names";

/**
 * What the compiler checks of entries written out in code: each part has as many nodes as it has terminals, no part shares
 * a name with a node, a coupling names two coils of the network, and some part touches `in`. What is right is the type of
 * the entries; what is wrong is, in its place, what would be right, or a sentence that says so: the compiler prints it.
 * Networks whose keys are known only at run time pass, and are checked then.
 */
export type Checked<T> = string extends keyof T
  ? T
  : TouchesInput<T> extends true
    ? CheckedFragment<T>
    : 'no part touches "in", the amplifier\'s terminal';

/** As `Checked`, without the demand that a part touches `in`. */
export type CheckedFragment<T> = string extends keyof T ? T : { readonly [K in keyof T]: CheckedEntry<K, T[K], T> };

/** Entries each of which has the shape of its part; what hasn't is shown what would be right. It costs less than the rest. */
export type CheckedShape<T> = [T] extends [Entries] ? T : CheckedFragment<T>;

type CheckedEntry<K, E, T> = K extends KnownNode<T> | "in" | "gnd"
  ? `"${K & string}" is the name of a part and of a node: one of them needs another`
  : E extends readonly [infer P, ...unknown[]]
    ? RightEntry<P, T>
    : E;

type RightEntry<P, T> = P extends TwoTerminalPart
  ? readonly [part: TwoTerminalPart, from: string, to: string]
  : P extends LPad
    ? readonly [part: LPad, input: string, output: string, common: string]
    : P extends Transformer
      ? readonly [part: Transformer, primaryDot: string, primaryEnd: string, secondaryDot: string, secondaryEnd: string]
      : P extends CustomPart<3>
        ? readonly [part: P, first: string, second: string, third: string]
        : P extends CustomPart<4>
          ? readonly [part: P, first: string, second: string, third: string, fourth: string]
          : readonly [coupling: Coupling, first: CoilName<T>, second: CoilName<T>];

type TouchesInput<T> = "in" extends NodeName<T> ? true : false;
