export { type SpreaderLayout, spreaderCells } from "./spreader-cells.ts";
export { type Segment, type StripLayout, stripSegments } from "./strip-segments.ts";
