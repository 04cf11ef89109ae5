// What other floors use and nobody outside needs.
export { figure, list, paragraph, table } from "./blocks";
export { htmlPage, type HtmlPageOptions, type PageSection } from "./html-page";
export type { Content } from "./markup";
export type { Column, Table } from "./table";
export { textTable, type TextTableOptions } from "./text-table";
