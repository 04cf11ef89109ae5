// Runs an example: its imports become calls, and each statement with a stated result is wrapped in a comparison.
import ts from "typescript";
import type { Example } from "./collect";
import { disagreement, parseStated } from "./stated";

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** One statement and what its trailing comment says about it. */
interface Claim {
  readonly line: number;
  readonly comment: string;
  reached: boolean;
}

/** The expression that a trailing comment speaks of: that of the innermost statement which ends there. */
function spokenOf(statement: ts.Statement): ts.Expression | undefined {
  if (ts.isExpressionStatement(statement)) {
    const call = statement.expression;
    const prints = ts.isCallExpression(call) && call.expression.getText() === "console.log" && call.arguments.length === 1;
    return prints ? call.arguments[0] : call;
  }
  if (ts.isVariableStatement(statement)) return statement.declarationList.declarations.at(-1)?.initializer;
  if (ts.isReturnStatement(statement)) return statement.expression;
  return undefined;
}

/** The comment after a statement on its last line, with the lines below it while a bracket is open. */
function trailingComment(text: string, end: number): string | undefined {
  const range = ts.getTrailingCommentRanges(text, end)?.find((each) => each.kind === ts.SyntaxKind.SingleLineCommentTrivia);
  if (range === undefined) return undefined;
  let comment = text.slice(range.pos + 2, range.end).trim();
  for (const line of text.slice(range.end + 1).split("\n")) {
    const open = (comment.match(/[[{]/g)?.length ?? 0) - (comment.match(/[\]}]/g)?.length ?? 0);
    const next = line.match(/^\s*\/\/(.*)$/);
    if (open <= 0 || next === null) break;
    comment += ` ${next[1]!.trim()}`;
  }
  return comment;
}

function importCall(node: ts.ImportDeclaration): string {
  const from = `await __import(${node.moduleSpecifier.getText()})`;
  const clause = node.importClause;
  if (clause === undefined) return `${from};`;
  if (clause.phaseModifier === ts.SyntaxKind.TypeKeyword) return "";
  if (clause.name !== undefined) throw new Error("an example has no default imports");
  const bindings = clause.namedBindings!;
  if (ts.isNamespaceImport(bindings)) return `const ${bindings.name.text} = ${from};`;
  const names = bindings.elements
    .filter((each) => !each.isTypeOnly)
    .map((each) => (each.propertyName === undefined ? each.name.text : `${each.propertyName.text}: ${each.name.text}`));
  return `const { ${names.join(", ")} } = ${from};`;
}

/** The example's code with claims wrapped; line breaks stay where they are. */
function instrument(code: string): { readonly code: string; readonly claims: Claim[] } {
  const file = ts.createSourceFile("example.ts", code, ts.ScriptTarget.ES2022, true);
  const claims: Claim[] = [];
  const edits: Edit[] = [];
  const visit = (node: ts.Node): void => {
    ts.forEachChild(node, visit);
    if (ts.isImportDeclaration(node))
      edits.push({ start: node.getStart(), end: node.end, text: importCall(node) + "\n".repeat(node.getText().split("\n").length - 1) });
    if (!ts.isStatement(node)) return;
    const expression = spokenOf(node);
    const comment = expression === undefined ? undefined : trailingComment(code, node.end);
    if (expression === undefined || comment === undefined) return;
    const thrown = comment.match(/^throws ([a-z0-9]+(?:-[a-z0-9]+)*)(?=$|[\s,;:.])/);
    if (thrown === null && parseStated(comment) === undefined) return;
    const id = claims.length;
    claims.push({ line: file.getLineAndCharacterOfPosition(node.end).line, comment, reached: false });
    if (thrown === null) {
      edits.push(
        { start: expression.getStart(), end: expression.getStart(), text: `__check(${id}, ` },
        { start: expression.end, end: expression.end, text: ")" },
      );
      return;
    }
    const waits = /\bawait\b/.test(expression.getText());
    const [before, arrow] = waits ? ["await ", "async () =>"] : ["", "() =>"];
    // A constant that is never made is not needed: only the call stays.
    const opening = `${before}__throws(${id}, "${thrown[1]}", ${arrow} (`;
    edits.push(
      { start: node.getStart(), end: expression.getStart(), text: opening },
      { start: expression.end, end: node.end, text: "));" },
    );
  };
  visit(file);
  // From the end, so that positions stay right; a nested edit lies inside an outer one and never overlaps it.
  const sorted = edits.map((edit, order) => ({ ...edit, order })).sort((a, b) => b.start - a.start || b.order - a.order);
  return { code: sorted.reduce((text, edit) => text.slice(0, edit.start) + edit.text + text.slice(edit.end), code), claims };
}

/**
 * Runs one example.
 *
 * @param load imports a module by the name that stands in the example
 * @returns what is wrong, each with its place; empty when every statement ran and every stated result holds
 */
export async function runExample(example: Example, load: (name: string) => Promise<unknown>): Promise<string[]> {
  const problems: string[] = [];
  const where = (line: number): string => `${example.file}:${example.line + line}`;
  let claims: Claim[] = [];
  const check = (id: number, value: unknown): unknown => {
    const claim = claims[id]!;
    claim.reached = true;
    const wrong = disagreement(parseStated(claim.comment)!, value);
    if (wrong !== undefined) problems.push(`${where(claim.line)}: ${wrong}`);
    return value;
  };
  const caught = (claim: Claim, code: string, error: unknown): void => {
    const got = (error as { code?: unknown } | null)?.code;
    if (got !== code || (error as Error).name !== "DividingNetworkError")
      problems.push(`${where(claim.line)}: threw ${String(error)} (code ${String(got)}), stated ${code}`);
  };
  const throws = (id: number, code: string, call: () => unknown): unknown => {
    const claim = claims[id]!;
    claim.reached = true;
    const missing = (): void => void problems.push(`${where(claim.line)}: did not throw, stated ${code}`);
    try {
      const result = call();
      if (result instanceof Promise) return result.then(missing, (error: unknown) => caught(claim, code, error));
      missing();
    } catch (error) {
      caught(claim, code, error);
    }
    return undefined;
  };
  try {
    const instrumented = instrument(example.code);
    claims = instrumented.claims;
    const compilerOptions = { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.ESNext };
    const { outputText } = ts.transpileModule(`async function __example() {${instrumented.code}\n}`, { compilerOptions });
    const make = new Function("__import", "__check", "__throws", "console", `${outputText}\nreturn __example;`) as (
      ...given: unknown[]
    ) => () => Promise<void>;
    const quiet = { ...console, log: () => undefined, table: () => undefined, error: () => undefined };
    await make(load, check, throws, quiet)();
  } catch (error) {
    problems.push(`${where(0)}: ${error instanceof Error ? `${error.name}: ${error.message}` : String(error)}`);
    return problems;
  }
  return [...problems, ...claims.filter((claim) => !claim.reached).map((claim) => `${where(claim.line)}: never reached: ${claim.comment}`)];
}
