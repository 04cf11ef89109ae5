// The site: the pages in the order of docs/book.md, and the reference made from the docstrings behind them: `npm run docs`. Formulas between $…$ become MathML, so that the pages
// need neither a font nor a script for them.
import { katex } from "@mdit/plugin-katex";

/** @type {Partial<import("typedoc").TypeDocOptions>} */
export default {
  name: "dividing-network",
  entryPoints: ["../src/*/index.ts"],
  tsconfig: "../src/tsconfig.json",
  out: "../site",
  readme: "../README.md",
  projectDocuments: ["*.md", "*/*.md"],
  includeVersion: true,
  disableSources: true,
  hideGenerator: true,
  categorizeByGroup: false,
  plugin: ["./typedoc-book.mjs"],
  sort: ["documents-first", "kind", "alphabetical"],
  // A reader looks for what to call: functions come first.
  kindSortOrder: [
    "Document",
    "Project",
    "Module",
    "Namespace",
    "Function",
    "Class",
    "Interface",
    "TypeAlias",
    "Variable",
    "Enum",
    "EnumMember",
    "Reference",
    "Constructor",
    "Property",
    "Accessor",
    "Method",
    "Parameter",
    "TypeParameter",
    "TypeLiteral",
    "CallSignature",
    "ConstructorSignature",
    "IndexSignature",
    "GetSignature",
    "SetSignature",
  ],
  groupOrder: ["The book", "The work", "Understanding", "To look up", "Further pages", "For contributors", "Modules", "Functions", "*"],
  navigation: { includeGroups: true, includeCategories: false, includeFolders: true },
  blockTags: ["@param", "@returns", "@throws", "@example", "@typeParam", "@remarks", "@see", "@deprecated"],
  // The package itself gathers what the folders export: it would list everything twice.
  validation: {
    notExported: false,
    invalidLink: true,
    invalidPath: true,
    rewrittenLink: true,
    notDocumented: false,
    unusedMergeModuleWith: true,
  },
  treatWarningsAsErrors: true,
  markdownItOptions: { html: true, linkify: false },
  markdownItLoader: (parser) => {
    parser.use(katex, {
      output: "mathml",
      delimiters: "dollars",
      logger: () => "ignore", // letters such as Ω inside a formula are meant
      // A formula that cannot be read stops the run rather than being shown as red text.
      transformer: (html) => {
        if (html.includes("katex-error")) throw new Error(`a formula cannot be read: ${html}`);
        return html;
      },
    });
  },
};
