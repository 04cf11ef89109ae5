// The codes of errors, issues and findings that stand in the source, and the floor in which each does.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import ts from "typescript";
import { root } from "../support/program";

const isCode = (text: string): boolean => /^[a-z]+(-[a-z0-9]+)*$/.test(text);

/** Code → floors, both in the order of the alphabet. */
export function codesInSource(): Map<string, string[]> {
  const folder = join(root, "src");
  const files = (readdirSync(folder, { recursive: true }) as string[])
    .filter((name) => name.endsWith(".ts"))
    .map((name) => ({
      floor: name.split("/")[0]!,
      source: ts.createSourceFile(name, readFileSync(join(folder, name), "utf8"), ts.ScriptTarget.ES2022, true),
    }));
  // Functions that are handed a code: by name, the place of their parameter called `code`.
  const takers = new Map<string, number>([["DividingNetworkError", 0]]);
  const each = (node: ts.Node, visit: (node: ts.Node) => void): void => {
    visit(node);
    node.forEachChild((child) => each(child, visit));
  };
  const taker = (name: ts.Node | undefined, parameters: readonly ts.ParameterDeclaration[]) => {
    const at = parameters.findIndex((parameter) => parameter.name.getText() === "code");
    if (at >= 0 && name !== undefined && ts.isIdentifier(name)) takers.set(name.text, at);
  };
  // A function of the same name without one, by the file that has it.
  const others = new Set<string>();
  for (const { source } of files) {
    each(source, (node) => {
      if (ts.isFunctionDeclaration(node) && node.name && !node.parameters.some((parameter) => parameter.name.getText() === "code"))
        others.add(`${source.fileName} ${node.name.text}`);
      if (
        ts.isVariableDeclaration(node)
        && ts.isIdentifier(node.name)
        && node.initializer
        && ts.isArrowFunction(node.initializer)
        && !node.initializer.parameters.some((parameter) => parameter.name.getText() === "code")
      )
        others.add(`${source.fileName} ${node.name.text}`);
      if (ts.isFunctionDeclaration(node) || ts.isMethodSignature(node) || ts.isMethodDeclaration(node))
        taker(node.name, [...node.parameters]);
      if (ts.isVariableDeclaration(node) && node.initializer && ts.isArrowFunction(node.initializer))
        taker(node.name, [...node.initializer.parameters]);
    });
  }
  const found = new Map<string, Set<string>>();
  for (const { floor, source } of files) {
    const take = (node: ts.Expression | undefined): void => {
      if (node === undefined) return;
      if (ts.isConditionalExpression(node)) [node.whenTrue, node.whenFalse].forEach(take);
      else if (ts.isStringLiteral(node) && isCode(node.text)) found.set(node.text, (found.get(node.text) ?? new Set()).add(floor));
    };
    each(source, (node) => {
      if (ts.isNewExpression(node) || ts.isCallExpression(node)) {
        const callee = ts.isPropertyAccessExpression(node.expression) ? node.expression.name : node.expression;
        const at = ts.isIdentifier(callee) && !others.has(`${source.fileName} ${callee.text}`) ? takers.get(callee.text) : undefined;
        if (at !== undefined) take(node.arguments?.[at]);
      } else if (
        (ts.isPropertyAssignment(node) || ts.isParameter(node) || ts.isVariableDeclaration(node))
        && node.name.getText() === "code"
      )
        take(node.initializer);
    });
  }
  // The schema library's own word for an issue, which never leaves it.
  found.delete("custom");
  return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)).map(([code, floors]) => [code, [...floors].sort()]));
}
