// Errors of the command in words, and its name.

export const NAME = "dividing-network";

/** Something that whoever called the program can put right: told in words, without a stack. */
export class Complaint extends Error {}

export function codeOf(error: unknown): string {
  return typeof error === "object" && error !== null && "code" in error ? String(error.code) : "";
}

export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
