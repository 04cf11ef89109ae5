import type { CheckedShape } from "./checked";
import type { UncheckedEntries } from "./entries";

/** The values of a network that wait for their nodes: what `zobel` or `ladder` gives, before its `branch` is called. */
export interface Unplaced {
  /** Makes entries of them, between two nodes. */
  readonly branch: (nodes: never) => unknown;
}

/** All pieces of a join as one network: the entries of each, whatever they are. */
export type Joined<P extends readonly unknown[], Sum = unknown> = number extends P["length"]
  ? Readonly<P[number] & UncheckedEntries>
  : P extends readonly [infer Piece, ...infer Rest]
    ? Joined<Rest, Both<Sum, Piece>>
    : { readonly [K in keyof Sum]: Sum[K] };

/** Where both may have a part of one name (the parts of a ladder: how many there are isn't known), it is either's. */
type Both<A, B> = unknown extends A
  ? B
  : string extends keyof A | keyof B
    ? A & B
    : keyof A & keyof B extends never
      ? A & B
      : Without<A, B> & Without<B, A> & { readonly [K in keyof A & keyof B]?: Exclude<A[K] | B[K], undefined> };

type Without<A, B> = { readonly [K in keyof A as K extends keyof B ? never : K]: A[K] };

/**
 * What the compiler checks of pieces: that no two of them have a part of the same name for certain. A piece that repeats
 * one is, in its place, a sentence that names the part and both pieces.
 */
export type CheckedPieces<P extends readonly unknown[]> = { readonly [I in keyof P]: CheckedPiece<P, P[I], I> };

type CheckedPiece<P extends readonly unknown[], Piece, I> = Piece extends Unplaced
  ? 'these are values: take their branch, .branch({ from: "a", to: "gnd", prefix: "Z" })'
  : I extends `${number}`
    ? [Clash<P, Piece, I>] extends [never]
      ? CheckedShape<Piece>
      : Clash<P, Piece, I>
    : Piece;

/** Looks through the pieces before the one at `I`. */
type Clash<
  P extends readonly unknown[],
  Piece,
  I extends `${number}`,
  Seen extends readonly unknown[] = [],
> = Seen["length"] extends P["length"]
  ? never
  : `${Seen["length"]}` extends I
    ? never
    : [Shared<P[Seen["length"]], Piece>] extends [never]
      ? Clash<P, Piece, I, [...Seen, 0]>
      : `pieces ${[...Seen, 0]["length"]} and ${Position<I>} both have a part named "${Shared<P[Seen["length"]], Piece>}"`;

/** 3 of `"2"`. */
type Position<I extends `${number}`, Seen extends readonly unknown[] = []> = `${Seen["length"]}` extends I
  ? [...Seen, 0]["length"] & number
  : Position<I, [...Seen, 0]>;

type Shared<A, B> = string extends keyof A | keyof B ? never : keyof A & keyof B extends never ? never : Certain<A> & Certain<B>;

type Certain<T> = keyof { [K in keyof T as undefined extends T[K] ? never : K & string]: 1 } & string;
