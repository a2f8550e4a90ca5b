import type { MultiPolygon, Point } from "../geo/index.ts";

/** Text made safe for an element or an attribute of SVG and HTML. Characters XML does not allow are dropped. */
export const escapeText = (text: string): string =>
  text
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the ones XML forbids
    .replaceAll(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, "")
    .replaceAll("&", "&amp;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;")
    .replaceAll('"', "&quot;");

/** A number of a drawing: to a tenth of a px, shortest form. */
export const px = (value: number): string => {
  const tenths = Math.round(value * 10);
  return tenths === 0 ? "0" : String(tenths / 10);
};

type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element with its attributes in the order given; without `inside` it is closed at once. */
export function element(name: string, attributes: Attributes, inside?: string): string {
  const text = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? px(value) : escapeText(value!)}"`)
    .join("");
  return inside === undefined ? `<${name}${text}/>` : `<${name}${text}>${inside}</${name}>`;
}

/** A ring as path data in tenths of a px, relative moves, points that fall together dropped; empty below 3 points. */
export function ringPath(ring: readonly Point[], toPx: (point: Point) => Point): string {
  const points = tenths(ring, toPx);
  if (points.length > 1 && same(points[0]!, points.at(-1)!)) points.pop();
  return points.length < 3 ? "" : `${relative(straightened(points))}z`;
}

/** An open line as path data; empty below 2 points. */
export function linePath(line: readonly Point[], toPx: (point: Point) => Point): string {
  const points = tenths(line, toPx);
  return points.length < 2 ? "" : relative(points);
}

export const areaPath = (area: MultiPolygon, toPx: (point: Point) => Point): string =>
  area.flatMap((polygon) => polygon.map((ring) => ringPath(ring, toPx))).join("");

function tenths(points: readonly Point[], toPx: (point: Point) => Point): Point[] {
  const kept: Point[] = [];
  for (const point of points) {
    const [x, y] = toPx(point);
    const next: Point = [Math.round(x * 10), Math.round(y * 10)];
    if (kept.length === 0 || !same(kept.at(-1)!, next)) kept.push(next);
  }
  return kept;
}

const same = (a: Point, b: Point): boolean => a[0] === b[0] && a[1] === b[1];

/** Drops points on the straight line between their neighbours. */
function straightened(points: readonly Point[]): Point[] {
  return points.filter((point, i) => {
    const before = points[(i + points.length - 1) % points.length]!;
    const after = points[(i + 1) % points.length]!;
    const turn =
      (point[0] - before[0]) * (after[1] - point[1]) - (point[1] - before[1]) * (after[0] - point[0]);
    return turn !== 0 || i === 0;
  });
}

function relative(points: readonly Point[]): string {
  const [first] = points;
  let text = `M${first![0] / 10} ${first![1] / 10}`;
  for (let i = 1; i < points.length; i++) {
    const dx = (points[i]![0] - points[i - 1]![0]) / 10;
    const dy = (points[i]![1] - points[i - 1]![1]) / 10;
    text += i === 1 ? `l${dx}${joined(dy)}` : `${joined(dx)}${joined(dy)}`;
  }
  return text;
}

/** A minus sign parts two numbers by itself. */
const joined = (value: number): string => (value < 0 ? String(value) : ` ${value}`);
