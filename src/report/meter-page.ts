import { meterFlow, ticketShouldReadLb } from "../capacity/index.ts";
import { inBinOf, inWorkingOrder, type RunResult, rigFigures } from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { heading, htmlTable, number, paragraph } from "./html.ts";
import { analysisOf } from "./laid-in.ts";
import { analysisInWords, coatInWords, flatRate, openAcres, stepOf } from "./map-words.ts";
import { lbText, rateText } from "./numbers.ts";

/** `Left, 11-52-0`: a bin by its letter, with what is in it. */
export const binWords = ({ id, product }: { readonly id: string; readonly product: string }): string => {
  const side = { L: "Left", R: "Right" }[id.toUpperCase()] ?? `Bin ${id}`;
  return `${side}, ${product}`;
};

/** Catch test, density by weighing, and what the tickets must read. */
export function meterPage(result: RunResult): string {
  const { plan } = result;
  const fields = inWorkingOrder(plan, result.fields);
  const field = fields[0]!;
  // A blend's density is by the shares it is laid in; several ratios of one are several products.
  const rig = rigFigures(plan, field.laid);
  const inBins = fields.flatMap((one) =>
    rigFigures(plan, one.laid).bins.map((bin) => ({
      field: one,
      bin: { ...bin, product: inBinOf(one.laid, bin.id) },
    })),
  );
  const nameOf = ({ bin }: (typeof inBins)[number]): string => `${bin.id} ${bin.product}`;
  const filled = inBins.filter((one, i) => inBins.findIndex((other) => nameOf(other) === nameOf(one)) === i);
  const { mph, widthFt } = rig.work;
  const tests = filled.flatMap(({ bin, field: there }) => {
    const map = there.prescriptions.find((one) => one.pass === "strip" && one.bin === bin.id);
    if (map === undefined || map.maxLbPerAc === 0) return [];
    const rate = flatRate(map, stepOf(plan, map), openAcres(there, "strip")) || map.maxLbPerAc;
    const all = meterFlow(rate, widthFt, mph);
    return [{ bin, rate, all, row: all / plan.rig.rows }];
  });
  const perRow = htmlTable(
    [{ title: "row" }, ...tests.map(({ bin }) => ({ title: `${binWords(bin)}: caught in 1 min, lb` }))],
    Array.from({ length: plan.rig.rows }, (_, r) => [String(r + 1), ...tests.map(() => "__________")]),
  );
  const wanted = htmlTable(
    [
      { title: "product" },
      ...["at lb/ac", "mph", "all rows, lb a minute", "one row, least", "one row", "one row, most"].map(
        number,
      ),
    ],
    tests.map(({ bin, rate, all, row }) => [
      binWords(bin),
      rateText(rate),
      numberText(mph, 1),
      numberText(all, 1),
      numberText(row * 0.95, 2),
      numberText(row, 2),
      numberText(row * 1.05, 2),
    ]),
  );
  const tickets = htmlTable(
    [
      { title: "full bin" },
      { title: "the ticket must read" },
      ...["ft³", "lb/ft³", "net, lb"].map(number),
      { title: "weighed lb/ft³" },
    ],
    filled.map(({ bin, field: there }) => {
      const filledFt3 = bin.binFt3 * (bin.fillFactor ?? 1);
      return [
        binWords(bin),
        `${analysisInWords(analysisOf(result, bin.product))}${coatInWords(there, bin.id)}`,
        numberText(filledFt3, 0),
        numberText(bin.lbPerFt3, 1),
        lbText(ticketShouldReadLb(filledFt3, bin.lbPerFt3)),
        "__________",
      ];
    }),
  );
  return [
    paragraph(
      "Catch every row for one minute at speed and rate (or a counted number of drive turns: lb/ac = lb ÷ (turns × circumference ft × width ft ÷ 43,560)). Every row within 5 % of their mean (Sumner, Univ. Georgia), else set the meter and catch again. After a change of product, rate or speed: again.",
    ),
    wanted,
    perRow,
    heading("Density and ticket"),
    tickets,
    paragraph(
      "Density: fill a known volume level, not shaken; lb net ÷ ft³. Published ranges differ by up to a quarter: the weighed figure goes into the plan (lbPerFt3).",
    ),
    paragraph(
      "Measured: caught ÷ wanted = ____________ meter factor (fills.meterFactor in the plan).     date ______________     by ______________",
    ),
  ].join("");
}
