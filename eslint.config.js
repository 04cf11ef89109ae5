import { readFileSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { defineConfig, globalIgnores } from "eslint/config";
import tseslint from "typescript-eslint";

const root = import.meta.dirname;
const floors = JSON.parse(readFileSync(resolve(root, "tests/package/floors.json"), "utf8"));

/** Where a file below src/ lives: `["network", "solve"]`; the folder alone and its index are both `["network", "index"]`. */
function place(path) {
  const [folder, ...rest] = relative(resolve(root, "src"), path).split(sep);
  return [folder, rest.join("/").replace(/\.ts$/, "") || "index"];
}

/** A folder reaches only the floors below its own, and only through their index, or `internal` for what other floors share but nobody outside needs. */
const floorRule = {
  meta: {
    type: "problem",
    schema: [],
    messages: {
      upward: "{{from}}/ may not import {{to}}/: the floors are {{order}}, and imports go to the left only.",
      deep: 'Import {{to}}/ through its index ("../{{to}}") or, what isn\'t published, through "../{{to}}/internal".',
      self: "A file does not import its own folder's index: name the file.",
      outside: "src/ imports nothing outside src/.",
    },
  },
  create(context) {
    const [from] = place(context.filename);
    const check = (node) => {
      const name = node.source?.value;
      if (typeof name !== "string" || !name.startsWith(".")) return;
      const [to, file] = place(resolve(dirname(context.filename), name));
      const report = (messageId) => context.report({ node: node.source, messageId, data: { from, to, order: floors.join(" < ") } });
      if (!floors.includes(to)) report("outside");
      else if (to === from) {
        if (file === "index") report("self");
      } else if (file !== "index" && file !== "internal") report("deep");
      else if (floors.indexOf(to) > floors.indexOf(from)) report("upward");
    };
    return { ImportDeclaration: check, ExportNamedDeclaration: check, ExportAllDeclaration: check, ImportExpression: check };
  },
};

const externalOnlyIn = (name, folder) => ({ name, message: `Only src/${folder}/ imports ${name}.` });
const zod = externalOnlyIn("zod", "project");
const matrix = externalOnlyIn("ml-matrix", "numeric");
const pools = externalOnlyIn("workerpool", "cores");
const restrictedImports = (...paths) => [
  "error",
  {
    paths,
    patterns: [
      {
        regex: "^(?!\\.|complex\\.js$|ml-matrix$|workerpool$|zod$)",
        message: "The library depends on complex.js, ml-matrix, workerpool and zod alone.",
      },
    ],
  },
];

const complexForm = 'import { Complex } from "complex.js": the other forms fail in one of the two module systems.';
const restrictedSyntax = [
  { selector: "ExportDefaultDeclaration", message: "No default exports: a name is the same everywhere." },
  { selector: "ExportSpecifier[exported.name='default']", message: "No default exports: a name is the same everywhere." },
  { selector: "ExportAllDeclaration", message: "No `export *`: each index names what it exports." },
  {
    selector: "ImportDeclaration[source.value='complex.js'] > :matches(ImportDefaultSpecifier, ImportNamespaceSpecifier)",
    message: complexForm,
  },
  { selector: "ImportDeclaration[source.value='complex.js'] > ImportSpecifier[imported.name!='Complex']", message: complexForm },
  {
    selector: "ImportDeclaration[source.value='zod'] > :not(ImportNamespaceSpecifier, Literal)",
    message: 'import * as z from "zod": the other forms bundle all of it.',
  },
  {
    selector: "ImportDeclaration[source.value='ml-matrix'] > :matches(ImportDefaultSpecifier, ImportNamespaceSpecifier)",
    message: "Import ml-matrix by name.",
  },
];

/** Cheap for everything: what is almost always a mistake. */
const everywhere = {
  eqeqeq: ["error", "always"],
  "no-constant-binary-expression": "error",
  "no-self-compare": "error",
  "no-template-curly-in-string": "error",
  "no-unmodified-loop-condition": "error",
  "no-unreachable-loop": "error",
  "@typescript-eslint/no-unused-vars": ["error", { argsIgnorePattern: "^_", varsIgnorePattern: "^_" }],
};

export default defineConfig(
  globalIgnores(["dist/", "site/", "coverage/", "node_modules/"]),
  { linterOptions: { reportUnusedDisableDirectives: "error" } },
  {
    files: ["**/*.ts", "**/*.js", "**/*.mjs"],
    extends: [tseslint.configs.recommended],
    rules: everywhere,
  },
  {
    files: ["src/**/*.ts"],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: root } },
    plugins: { floors: { rules: { direction: floorRule } } },
    rules: {
      "no-console": "error",
      "no-restricted-syntax": ["error", ...restrictedSyntax],
      "no-restricted-imports": restrictedImports(zod, matrix, pools),
      "@typescript-eslint/no-explicit-any": "error",
      "@typescript-eslint/no-import-type-side-effects": "error",
      "@typescript-eslint/no-unsafe-argument": "error",
      "@typescript-eslint/no-unsafe-assignment": "error",
      "@typescript-eslint/no-unsafe-call": "error",
      "@typescript-eslint/no-unsafe-member-access": "error",
      "@typescript-eslint/no-unsafe-return": "error",
      "@typescript-eslint/no-unnecessary-type-assertion": "error",
      "@typescript-eslint/no-floating-promises": "error",
      "@typescript-eslint/no-misused-promises": "error",
      "@typescript-eslint/only-throw-error": "error",
      "@typescript-eslint/restrict-plus-operands": "error",
      "@typescript-eslint/require-array-sort-compare": "error",
      "@typescript-eslint/switch-exhaustiveness-check": ["error", { considerDefaultExhaustiveForUnions: true }],
    },
  },
  {
    files: ["tests/**/*.ts"],
    ignores: ["tests/setup.ts"],
    rules: {
      "no-restricted-syntax": [
        "error",
        {
          selector: "Property[key.name='numRuns']:not([value.callee.name='cases'])",
          message: "numRuns: cases(n), so that `npm run test:search` can draw more.",
        },
      ],
    },
  },
  // Type tests are made of expressions that compile or do not.
  { files: ["tests/types/**/*.ts"], rules: { "@typescript-eslint/no-unused-expressions": "off" } },
  // src/index.ts gathers all floors and may name each; everything else keeps to its own floor.
  { files: ["src/*/**/*.ts"], rules: { "floors/direction": "error" } },
  { files: ["src/project/**/*.ts"], rules: { "no-restricted-imports": restrictedImports(matrix, pools) } },
  { files: ["src/numeric/**/*.ts"], rules: { "no-restricted-imports": restrictedImports(zod, pools) } },
  { files: ["src/cores/**/*.ts"], rules: { "no-restricted-imports": restrictedImports(zod, matrix) } },
  // The program of the package reads and writes files, and prints; it rests on the floors and on Node alone.
  {
    files: ["src/command-line*.ts"],
    rules: {
      "no-console": "off",
      "no-restricted-imports": [
        "error",
        { patterns: [{ regex: "^(?!\\.|node:)", message: "The program imports the floors and Node's own modules alone." }] },
      ],
    },
  },
);
