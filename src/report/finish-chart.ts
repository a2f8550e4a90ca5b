import type { FinishAt } from "../plan/index.ts";
import { numberText, UNKNOWN } from "../units/index.ts";
import { type ChartOptions, drawing, textIn } from "./chart-parts.ts";
import { element, px } from "./svg.ts";
import { colours } from "./tokens.ts";

/**
 * The chance of being done by each day, an upright a day: heavy up to the date that holds in 8 years of 10, which a line
 * names; a dotted line at 5 of 10. Empty without days.
 */
export function finishChart(finish: FinishAt, options: ChartOptions): string {
  const { width, height } = options;
  const { byDay } = finish;
  if (byDay.length === 0) return "";
  const colour = options.inks !== "black";
  const [ink, faint, signal] = colour
    ? [colours.ink, colours.line, colours.flag]
    : [colours.black, colours.black, colours.black];
  const [left, right, top, bottom] = [34, width - 8, 30, height - 22];
  const step = (right - left) / byDay.length;
  const x = (day: number): number => left + step * (day + 0.5);
  const y = (chance: number): number => bottom - (bottom - top) * chance;
  const at80 = byDay.findIndex((one) => one.date === finish.date80);
  const at50 = byDay.findIndex((one) => one.date === finish.date50);
  const bars = byDay.map((one, day) => {
    const heavy = at80 >= 0 && day <= at80;
    return element("path", {
      d: `M${px(x(day))} ${px(bottom)}V${px(y(one.chance))}`,
      stroke: heavy ? ink : faint,
      "stroke-width": String(Math.max(0.8, Math.min(heavy ? 5 : 2, step * (heavy ? 0.7 : 0.3)))),
    });
  });
  const text = textIn(ink);
  const upright = (day: number, dash: string | undefined, weight: string, stroke: string): string =>
    element("path", {
      d: `M${px(x(day))} ${px(bottom)}V${px(top - 6)}`,
      stroke,
      "stroke-width": weight,
      "stroke-dasharray": dash,
    });
  const anchor = (day: number): string => (x(day) > (left + right) / 2 ? "end" : "start");
  const title = `chance of being done by day: ${finish.date80 ?? "later"} in 8 years of 10, ${finish.date50 ?? "later"} in 5`;
  const ticks = [0, Math.floor(byDay.length / 2), byDay.length - 1];
  return drawing(
    { width, height },
    title,
    element("path", { d: `M${px(left)} ${px(bottom)}H${px(right)}`, stroke: ink, "stroke-width": "1" }) +
      bars.join("") +
      (at50 >= 0 ? upright(at50, "2 4", "1.2", ink) : "") +
      (at80 >= 0
        ? upright(at80, undefined, "1.8", signal) +
          text(
            x(at80) + (anchor(at80) === "end" ? 4 : -4),
            18,
            `8 years in 10: ${dayText(finish.date80!)}`,
            anchor(at80),
            signal,
          )
        : "") +
      ["0", "5", "10"].map((one) => text(left - 6, y(Number(one) / 10) + 4, one, "end")).join("") +
      ticks
        .map((day, i) =>
          text(x(day), height - 6, dayText(byDay[day]!.date), i === 0 ? "start" : i === 1 ? "middle" : "end"),
        )
        .join(""),
  );
}

const months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];

/** `2027-05-06` as `May 6`. */
export function dayText(date: string | null): string {
  if (date === null) return UNKNOWN;
  const [, month, day] = date.split("-").map(Number) as [number, number, number];
  return `${months[month - 1]} ${numberText(day, 0)}`;
}
