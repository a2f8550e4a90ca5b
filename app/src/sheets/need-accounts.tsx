import {
  type BalanceSheet,
  counted,
  type NeedRule,
  numberText,
  type Oxide,
  oxideText,
  type Plan,
} from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { FigureLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { NotYet } from "../parts/not-yet.tsx";
import { acresWithin, area, dollars, mass, tilde, words } from "../state/figures.ts";
import { canSpendDollars, productFor } from "../state/need-cost.ts";
import { bandText, withBudget } from "../state/need-edits.ts";
import { edit, type Opened, opened, plan } from "../state/opened.ts";
import { field } from "../state/results.ts";

/** The guide's classes with their acres and pounds, and how much ground lies near a step. */
export function NeedClasses({ oxide }: { oxide: Oxide }) {
  const rule = field.value?.need.rule[oxide];
  if (!rule) return null;
  const { bands, nearJumps, buildUp, yearsCovered } = rule;
  const cover = field.value!.need.cover[oxide];
  return (
    <Fold class="small" title="Classes of the guide">
      {() => (
        <>
          <table>
            <thead>
              <tr>
                <th scope="col">class</th>
                <FigureHeads of={[words().area, `${words().mass} ${oxideText(oxide)}`]} />
              </tr>
            </thead>
            <tbody>
              {bands.map(({ band, areaAc, lb }) => (
                <tr key={band}>
                  <th scope="row">{bandText(band)}</th>
                  <td class="figure">{area(areaAc)}</td>
                  <td class="figure">{mass(lb)}</td>
                </tr>
              ))}
            </tbody>
          </table>
          {nearJumps.jumps.length > 0 && (
            <p>
              {area(nearJumps.acres)} {words().area} lie within 10 % of a step of the guide (
              {nearJumps.jumps.map((jump) => numberText(jump, 1)).join(", ")}).
            </p>
          )}
          {buildUp !== null && <p>Build-up: {buildUp}.</p>}
          <p>
            One application covers {counted(yearsCovered, "crop year")}
            {cover.coveredThrough === null ? "" : `; covered through ${cover.coveredThrough} by ${cover.by}`}.
          </p>
        </>
      )}
    </Fold>
  );
}

/** What ground below critical wants comes first, in acres and dollars; then the rest, and the budget of both. */
export function BelowCriticalFirst() {
  const of = plan.value;
  const shown = field.value;
  if (!of || !shown) return null;
  const known = (["P2O5", "K2O"] as const).flatMap((oxide) => {
    const rule = shown.need.rule[oxide];
    return rule?.belowCritical ? [{ oxide, rule, below: rule.belowCritical }] : [];
  });
  const few = known.filter(({ below }) => below.samples !== undefined);
  const mapped = known.filter(({ below }) => below.samples === undefined);
  const all = (rule: NeedRule) => rule.bands.reduce((sum, { lb }) => sum + lb, 0);
  const rows = [
    ...mapped.map(({ oxide, below }) => ({ oxide, what: "below critical", ...below })),
    ...mapped.map(({ oxide, rule, below }) => ({
      oxide,
      what: "the rest",
      areaAc: shown.areaAc - below.areaAc,
      lb: all(rule) - below.lb,
    })),
  ].map((row) => ({ ...row, ...productFor(of, row.oxide, row.lb) }));
  return (
    <Fold class="small" title="What ground below critical wants first">
      {() => (
        <>
          {known.length === 0 && (
            <p class="second">Nothing here is below critical, or the guide does not say where.</p>
          )}
          {rows.length > 0 && (
            <table>
              <thead>
                <tr>
                  <th scope="col">ground</th>
                  <FigureHeads of={[words().area, `${words().mass} oxide`, `${words().mass} product`, "$"]} />
                </tr>
              </thead>
              <tbody>
                {rows.map(({ oxide, what, areaAc, lb, lbProduct, product, usd }) => (
                  <tr key={`${oxide} ${what}`}>
                    <th scope="row">
                      {oxideText(oxide)} {what}
                    </th>
                    <td class="figure">{area(areaAc)}</td>
                    <td class="figure">{mass(lb)}</td>
                    <td class="figure" title={product}>
                      {mass(lbProduct)}
                    </td>
                    <td class="figure">{dollars(usd)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          {few.map(({ oxide, below: { samples } }) => (
            <p class="second" key={oxide}>
              {oxideText(oxide)}: {samples!.below} of {samples!.of} samples below critical; too few for a map
              of where.
            </p>
          ))}
          {rows.some(({ usd }) => Number.isNaN(usd)) && (
            <p class="second">Dollars come with prices, on the order sheet.</p>
          )}
          <Budget of={of} />
        </>
      )}
    </Fold>
  );
}

/** The most that all fields may take; spent on the lowest tests first. */
function Budget({ of }: { of: Plan }) {
  const { budget } = of;
  const line = (unit: "usd" | "lb", label: string, isOff: boolean) => {
    const value = budget && unit in budget ? (budget as Record<"usd" | "lb", number>)[unit] : undefined;
    return (
      <FigureLine
        label={label}
        unit=""
        value={value ?? null}
        least={1}
        step={1}
        isOff={isOff}
        onTake={(typed) =>
          edit(withBudget(of, typed === null ? null : unit === "usd" ? { usd: typed } : { lb: typed }))
        }
      />
    );
  };
  return (
    <dl class="lines costs">
      {line("usd", "Whole farm, at most $", !canSpendDollars(of))}
      {line("lb", "or lb of product", false)}
    </dl>
  );
}

/** The sheet comes once the hand has rested; the one before stands until then. */
let last: { readonly of: Opened | null; readonly id: string; readonly sheet: BalanceSheet } | null = null;

/** Removal against what goes on, and which way the soil test moves. */
export function NeedBalance({ oxide }: { oxide: Oxide }) {
  const shown = field.value;
  const now = shown?.need.sheet ?? null;
  if (shown && now) last = { of: opened.value, id: shown.id, sheet: now };
  const sheet = last?.of === opened.value && last?.id === shown?.id ? last?.sheet : undefined;
  const mark = now === null ? "~" : tilde();
  if (!shown) return null;
  if (!sheet) {
    return (
      <Fold class="small" title={BALANCE}>
        <NotYet />
      </Fold>
    );
  }
  const line = sheet.nutrients.find(({ nutrient }) => nutrient === oxide);
  if (!line) return null;
  const { placedLb, creditLb, removalLb, buildUpLb, drawdownLb, direction } = line;
  const rows = [
    ["placed by the files", placedLb],
    ["credits", creditLb],
    ["taken by the crops", removalLb],
    ["built up", buildUpLb],
    ["drawn down", drawdownLb],
  ] as const;
  return (
    <Fold class="small" title={BALANCE}>
      {() => (
        <>
          <table>
            <thead>
              <tr>
                <th scope="col">{oxideText(oxide)} of the field</th>
                <th scope="col" class="figure">
                  {words().mass}
                </th>
              </tr>
            </thead>
            <tbody>
              {rows.map(([what, lb]) => (
                <tr key={what}>
                  <th scope="row">{what}</th>
                  <td class="figure">
                    {lb === undefined ? "" : mark}
                    {mass(lb ?? Number.NaN)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
          <p>
            {removalLb === undefined
              ? "No removal factor is known for this crop in this guide."
              : acresWithin(direction)}
          </p>
          <Along />
          <ShownTests />
        </>
      )}
    </Fold>
  );
}

const BALANCE = "Balance sheet";

/** Nitrogen, sulfur and zinc that come along, against what is wanted. */
function Along() {
  const lines = field.value!.need.alsoWanted.filter(
    ({ wantedLb, alongLb }) => wantedLb !== null || alongLb > 0.5,
  );
  const unit = words().mass;
  return (
    <>
      {lines.map(({ nutrient, wantedLb, alongLb, leftLb }) => (
        <p key={nutrient}>
          {nutrient}: {mass(alongLb)} {unit} come along
          {wantedLb === null
            ? "."
            : `, ${mass(wantedLb)} ${unit} wanted, ${mass(leftLb ?? 0)} ${unit} still to bring.`}
        </p>
      ))}
    </>
  );
}

const shownNames = { pH: "pH", bufferPH: "Buffer pH", organicMatter: "Organic matter, %" } as const;

function ShownTests() {
  const tests = field.value!.need.shownTests;
  const known = (["pH", "bufferPH", "organicMatter"] as const).flatMap((name) => {
    const test = tests[name];
    return test ? [{ name, ...test }] : [];
  });
  if (known.length === 0) return null;
  return (
    <p>
      {known
        .map(
          ({ name, min, max, samples }) =>
            `${shownNames[name]} ${numberText(min, 1)} to ${numberText(max, 1)} in ${samples} samples`,
        )
        .join("; ")}
      . No lime recommendation is made.
    </p>
  );
}

const methods = { surface: "broadcast", strip: "strip", both: "strip and broadcast" } as const;

/** Ground that gets nothing; where there is none that is said. */
export function Setbacks() {
  const of = plan.value;
  const shown = field.value;
  if (!of || !shown) return null;
  const { places } = shown.need.excluded;
  if ((of.exclusions ?? []).length === 0) return <p class="doubt">No setbacks entered, none respected.</p>;
  if (places.length === 0)
    return <p class="small second">None of the setbacks entered touches this field.</p>;
  return (
    <ul class="small">
      {places.map(({ what, method, setbackFt, areaAc }) => (
        <li key={`${what} ${method}`}>
          {what}: no {methods[method]} within {numberText(setbackFt, 0)} ft, {area(areaAc)} {words().area}
        </li>
      ))}
    </ul>
  );
}
