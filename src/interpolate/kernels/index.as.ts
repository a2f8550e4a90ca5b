// AssemblyScript: the exports of the compiled module.
export { cubicBlock, cubicPoint } from "./cubic.as";
export { factor, gather, halfSquares, invert, square, squareDiagonal, sums } from "./kriging.as";
export { tableBlock, tablePoint } from "./table.as";
