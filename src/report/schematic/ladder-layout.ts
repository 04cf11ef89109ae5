import { hasDriver, type Tree } from "./series-parallel";
import { HALF, LINE, linesOf, widthOf, type Marks, type Sheet } from "./sheet";

/** A block with one port at its left and one at its right, on one height. */
interface Along {
  readonly width: number;
  readonly up: number;
  readonly down: number;
  draw(sheet: Sheet, x: number, y: number): void;
}
/** A block with one port above and one below, `port` px from its left. */
interface Upright {
  readonly width: number;
  readonly height: number;
  readonly port: number;
  draw(sheet: Sheet, x: number, top: number, bottom: number): void;
}
/** A block that hangs on a rail, and on the return at `bottom`: its first wire meets the rail at `port`, its last the return at `foot`. */
export interface Hung {
  readonly width: number;
  readonly up: number;
  readonly down: number;
  readonly port: number;
  readonly foot: number;
  draw(sheet: Sheet, x: number, y: number, bottom: number): void;
}

const PORT = 24;
const GAP = 16;

function along(tree: Tree, marks: Marks): Along {
  if (tree.shape === "leaf") {
    const { piece, forward } = tree;
    const lines = linesOf(piece, marks);
    const width = Math.max(2 * HALF + 16, widthOf(lines) + GAP);
    return {
      width,
      up: (piece.symbol === "driver" ? 26 : 18) + lines.length * LINE,
      down: 22,
      draw(sheet, x, y) {
        const centre = x + width / 2;
        sheet.wire([x, y], [centre - HALF, y]);
        sheet.wire([centre + HALF, y], [x + width, y]);
        sheet.symbol(piece, centre, y, false, forward);
      },
    };
  }
  const blocks = tree.children.map((child) => along(child, marks));
  if (tree.shape === "series") {
    return {
      width: sum(blocks.map(({ width }) => width)),
      up: Math.max(...blocks.map(({ up }) => up)),
      down: Math.max(...blocks.map(({ down }) => down)),
      draw(sheet, x, y) {
        let at = x;
        for (const block of blocks) {
          block.draw(sheet, at, y);
          at += block.width;
        }
      },
    };
  }
  const inner = Math.max(...blocks.map(({ width }) => width));
  const width = inner + 2 * GAP;
  const offsets: number[] = [0];
  for (let k = 1; k < blocks.length; k++) offsets.push(offsets[k - 1]! + blocks[k - 1]!.down + blocks[k]!.up);
  return {
    width,
    up: blocks[0]!.up,
    down: offsets.at(-1)! + blocks.at(-1)!.down,
    draw(sheet, x, y) {
      for (const [k, block] of blocks.entries()) {
        const row = y + offsets[k]!;
        const start = x + GAP + (inner - block.width) / 2;
        sheet.wire([x + GAP / 2, row], [start, row]);
        sheet.wire([start + block.width, row], [x + width - GAP / 2, row]);
        block.draw(sheet, start, row);
      }
      for (const bus of [x + GAP / 2, x + width - GAP / 2])
        for (let k = 1; k < offsets.length; k++) sheet.wire([bus, y + offsets[k - 1]!], [bus, y + offsets[k]!]);
      sheet.wire([x, y], [x + GAP / 2, y]);
      sheet.wire([x + width - GAP / 2, y], [x + width, y]);
    },
  };
}

function upright(tree: Tree, marks: Marks): Upright {
  if (tree.shape === "leaf") {
    const { piece, forward } = tree;
    const lines = linesOf(piece, marks);
    return {
      width: PORT + 26 + widthOf(lines) + GAP,
      height: 2 * HALF + 24,
      port: PORT,
      draw(sheet, x, top, bottom) {
        const centre = (top + bottom) / 2;
        sheet.wire([x + PORT, top], [x + PORT, centre - HALF]);
        sheet.wire([x + PORT, centre + HALF], [x + PORT, bottom]);
        sheet.symbol(piece, x + PORT, centre, true, forward);
      },
    };
  }
  const blocks = tree.children.map((child) => upright(child, marks));
  if (tree.shape === "series") {
    const height = sum(blocks.map((block) => block.height));
    return {
      width: Math.max(...blocks.map(({ width }) => width)),
      height,
      port: PORT,
      draw(sheet, x, top, bottom) {
        const spare = (bottom - top - height) / blocks.length;
        let at = top;
        for (const block of blocks) {
          block.draw(sheet, x, at, at + block.height + spare);
          at += block.height + spare;
        }
      },
    };
  }
  const starts = startsOf(blocks);
  return {
    width: sum(blocks.map(({ width }) => width)),
    height: Math.max(...blocks.map(({ height }) => height)) + 2 * GAP,
    port: PORT,
    draw(sheet, x, top, bottom) {
      sheet.wire([x + PORT, top], [x + PORT, top + GAP]);
      sheet.wire([x + PORT, bottom - GAP], [x + PORT, bottom]);
      for (const [k, block] of blocks.entries()) {
        block.draw(sheet, x + starts[k]!, top + GAP, bottom - GAP);
        if (k > 0) for (const y of [top + GAP, bottom - GAP]) sheet.wire([x + starts[k - 1]! + PORT, y], [x + starts[k]! + PORT, y]);
      }
    },
  };
}

/** A tree that ends at the return: shunts stand, what leads to a driver lies along the rail. */
export function hung(tree: Tree, marks: Marks): Hung {
  const standing = (block: Upright): Hung => ({
    width: block.width,
    up: 0,
    down: block.height,
    port: block.port,
    foot: block.port,
    draw: (sheet, x, y, bottom) => block.draw(sheet, x, y, bottom),
  });
  if (tree.shape === "leaf" || !hasDriver(tree)) return standing(upright(tree, marks));
  if (tree.shape === "series") {
    const last = tree.children.map(hasDriver).lastIndexOf(true);
    const whole = tree.children[last]!.shape === "leaf" || last === tree.children.length - 1 ? last : tree.children.length - 1;
    const rest: Tree =
      whole === tree.children.length - 1 ? tree.children[whole]! : { shape: "series", children: tree.children.slice(whole) };
    const tail = rest.shape === "series" ? standing(upright(rest, marks)) : hung(rest, marks);
    if (whole === 0) return tail;
    const head = along({ shape: "series", children: tree.children.slice(0, whole) }, marks);
    return {
      width: head.width + tail.width,
      up: Math.max(head.up, tail.up),
      down: Math.max(head.down, tail.down),
      port: 0,
      foot: head.width + tail.foot,
      draw(sheet, x, y, bottom) {
        head.draw(sheet, x, y);
        sheet.wire([x + head.width, y], [x + head.width + tail.port, y]);
        tail.draw(sheet, x + head.width, y, bottom);
      },
    };
  }
  const simple = tree.children.filter((child) => child.shape === "leaf" || !hasDriver(child));
  const shunts = [...simple.filter((child) => !hasDriver(child)), ...simple.filter(hasDriver)].map((child) => hung(child, marks));
  const rows = tree.children.filter((child) => !simple.includes(child)).map((child) => hung(child, marks));
  const blocks = rows.length === 0 ? shunts : [...shunts, stacked(rows)];
  const starts = startsOf(blocks);
  const [final, start] = [blocks.at(-1)!, starts.at(-1)!];
  return {
    width: start + final.width,
    up: Math.max(...blocks.map(({ up }) => up)),
    down: Math.max(...blocks.map(({ down }) => down)),
    port: blocks[0]!.port,
    foot: start + final.foot,
    draw(sheet, x, y, bottom) {
      for (const [k, block] of blocks.entries()) {
        block.draw(sheet, x + starts[k]!, y, bottom);
        if (k === 0) continue;
        sheet.wire([x + starts[k - 1]! + blocks[k - 1]!.port, y], [x + starts[k]! + block.port, y]);
        sheet.wire([x + starts[k - 1]! + blocks[k - 1]!.foot, bottom], [x + starts[k]! + block.foot, bottom]);
      }
    },
  };
}

/** Several branches below each other: fed by a wire at their left, returning by one at their right. */
function stacked(rows: readonly Hung[]): Hung {
  if (rows.length === 1) return rows[0]!;
  const inner = Math.max(...rows.map(({ width }) => width));
  const width = inner + 2 * GAP;
  const offsets: number[] = [0];
  for (let k = 1; k < rows.length; k++) offsets.push(offsets[k - 1]! + rows[k - 1]!.down + GAP + rows[k]!.up);
  return {
    width,
    up: rows[0]!.up,
    down: offsets.at(-1)! + rows.at(-1)!.down,
    port: 0,
    foot: width - GAP / 2,
    draw(sheet, x, y, bottom) {
      const feet = rows.map((row, k) => (k === rows.length - 1 ? bottom : y + offsets[k]! + row.down));
      for (const [k, row] of rows.entries()) {
        const rail = y + offsets[k]!;
        sheet.wire([x, rail], [x + GAP + row.port, rail]);
        row.draw(sheet, x + GAP, rail, feet[k]!);
        sheet.wire([x + GAP + row.foot, feet[k]!], [x + width - GAP / 2, feet[k]!]);
        if (k === 0) continue;
        sheet.wire([x, y + offsets[k - 1]!], [x, rail]);
        sheet.wire([x + width - GAP / 2, feet[k - 1]!], [x + width - GAP / 2, feet[k]!]);
      }
    },
  };
}

function startsOf(blocks: readonly { readonly width: number }[]): number[] {
  const starts = [0];
  for (const { width } of blocks.slice(0, -1)) starts.push(starts.at(-1)! + width);
  return starts;
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
