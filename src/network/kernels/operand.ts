/** What an operand of an operation is: a slot of the block, a branch's values, a table or an output over the whole grid, a sum. */
export type Operand = "slot" | "values" | "table" | "output" | "sum";
