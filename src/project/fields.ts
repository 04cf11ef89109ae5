import * as z from "zod";
import { checkNumber, saidBy, type NumberRange } from "../errors/internal";
import type { Unit } from "../quantity";
import { inSi } from "../quantity/internal";
import { relativePath } from "./relative-path";

/** What is said of one value: the sentence goes on after its place ("must be …"), the hint says what to do. */
export interface Complaint {
  readonly message: string;
  readonly hint: string;
}

/** A complaint as a zod issue, after which later checks are left out: `params.hint` carries the hint. */
export function complain(
  context: {
    addIssue(issue: { code: "custom"; message: string; params: Record<string, unknown>; path?: PropertyKey[]; continue?: boolean }): void;
  },
  { message, hint }: Complaint,
  path: readonly PropertyKey[] = [],
): void {
  context.addIssue({ code: "custom", message, params: { hint }, path: [...path], continue: false });
}

/** A field that is read by a function which throws the library's own errors; `undefined` is a missing field. */
export function field<T>(read: (value: unknown) => T, hint = ""): z.ZodType<T> {
  return z.unknown().transform((value, context): T => {
    if (value === undefined) {
      context.addIssue({ code: "custom", message: "is missing", params: { missing: true, hint }, continue: false });
      return z.NEVER;
    }
    try {
      return read(value);
    } catch (error) {
      const complaint = saidBy(error);
      complain(context, { message: complaint.message, hint: complaint.hint === "" ? hint : complaint.hint });
      return z.NEVER;
    }
  });
}

/** A quantity: a number in SI, or text with its unit. */
export function quantity(unit: Unit, range: NumberRange = {}): z.ZodType<number> {
  return field((value) => inSi("project", "value", value, unit, range), `Write a number in ${unit}, or text with its unit`);
}

/** A number without text form; `unit` for the message. */
export function plainNumber(range: NumberRange = {}): z.ZodType<number> {
  return field((value) => checkNumber("project", "value", value, range), "Write a number");
}

/** What is wrong with a name of a part, a driver or a node. */
export function nameComplaint(text: string): Complaint | undefined {
  const good = text.length > 0 && text.length <= 60 && text === text.trim() && !/[\u0000-\u001f\u007f-\u009f\u2028\u2029]/.test(text);
  if (!good)
    return {
      message: `must be a name of 1 to 60 characters without spaces at its ends or control characters, got ${JSON.stringify(text.slice(0, 60))}`,
      hint: "Shorten or correct the name",
    };
  return text === "__proto__"
    ? { message: 'must be another name: "__proto__" has a meaning of its own to programs', hint: "Choose another name" }
    : undefined;
}

/** A name of a part, a driver or a node. */
export function name(): z.ZodType<string> {
  return z.string().superRefine((text, context) => {
    const complaint = nameComplaint(text);
    if (complaint !== undefined) complain(context, complaint);
  });
}

/** A text for people. */
export function words(atMost: number): z.ZodType<string> {
  return z.string().superRefine((text, context) => {
    if (text.trim() === "" || text.length > atMost)
      complain(context, { message: `must be a text of 1 to ${atMost} characters, got ${text.length}`, hint: "Shorten it, or fill it in" });
  });
}

/** The path of a file beside the project; its detours are taken out. */
export function path(): z.ZodType<string> {
  return z.string().transform((text, context) => {
    const reading = relativePath(text);
    if (reading.wrong === undefined) return reading.path;
    complain(context, { message: `must be ${reading.wrong}, got ${JSON.stringify(text.slice(0, 70))}`, hint: reading.hint });
    return z.NEVER;
  });
}

/** An object of known keys only; the message of an unknown one lists them. */
export function record<T extends z.ZodRawShape>(shape: T): z.ZodObject<T, z.core.$strict> {
  const known = Object.keys(shape)
    .map((key) => `"${key}"`)
    .join(", ");
  return z.strictObject(shape, { error: (issue) => (issue.code === "unrecognized_keys" ? known : undefined) });
}

/** A field that may be left out. */
export function optional<T extends z.ZodType>(schema: T): z.ZodExactOptional<T> {
  return z.exactOptional(schema);
}

/** A list with a stated range of lengths. */
export function list<T extends z.ZodType>(schema: T, least: number, most: number): z.ZodArray<T> {
  const array = z.array(schema);
  return least === most ? array.length(least, { abort: true }) : array.min(least, { abort: true }).max(most, { abort: true });
}
