import { areaIn, counted, laidProducts, numberText, tons, typedPrices, UNKNOWN } from "#core";
import { SERVER_GONE } from "../engine/protocol.ts";
import { Bench, BigNumber } from "../parts/bench.tsx";
import { DraftInput } from "../parts/draft-input.tsx";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { Notices } from "../parts/notices.tsx";
import { takeNumber } from "../parts/take-number.ts";
import { WideTable } from "../parts/wide-table.tsx";
import {
  area,
  boughtIn,
  dollars,
  farmLines,
  heavy,
  lbOf,
  orderDollars,
  productsOf,
  tilde,
  words,
} from "../state/figures.ts";
import { doubts, isKept } from "../state/how-far.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { withPrice } from "../state/plan-edits.ts";
import { farm, isFarmRefused } from "../state/results.ts";
import { saveSheet } from "../state/save-sheet.ts";
import { seasonTrouble } from "../state/season-state.ts";
import { settings } from "../state/settings.ts";
import { OrderGuides } from "./order-guides.tsx";
import { OrderSeason } from "./order-season.tsx";
import { TakeCare } from "./take-care.tsx";

/** What to order: tons a product for the farm and by field, as the files have them. */
export function OrderSheet() {
  const of = plan.value!;
  const lines = farmLines.value;
  const all = productsOf(lines).reduce((sum, product) => sum + lbOf(lines, product), 0);
  const usd = orderDollars.value;
  const acres = lines.reduce((sum, line) => sum + line.areaAc, 0);
  const open = of.fields.filter(({ id }) => !isKept(of, id)).length;
  return (
    <Bench
      title="Order"
      actions={
        <button
          type="button"
          class="action"
          onClick={() => void saveSheet("order.html")}
          disabled={lines.length === 0 || isFarmRefused.value || seasonTrouble.value?.code === SERVER_GONE}
        >
          Save the order sheet
        </button>
      }
    >
      {Number.isFinite(usd) ? (
        <BigNumber
          value={`${tilde()}${dollars(usd)}`}
          words={`of product in the maps, no freight; $${numberText(usd / areaIn(acres, settings.value.system), 2)}/${words().area} over ${area(acres)} ${words().area}`}
        />
      ) : (
        <BigNumber
          value={`${tilde()}${lines.length === 0 ? UNKNOWN : heavy(all, 1)}`}
          words={`${words().heavy} of product in the files`}
        />
      )}
      {farm.value && farm.value.incomplete !== "" && (
        <p class="flag-text">Incomplete: {farm.value.incomplete} worked out.</p>
      )}
      {open > 0 && (
        <p class="small second">
          {open} of {counted(of.fields.length, "field")} with a split that nobody has kept yet (Keep this
          split, on the sheet Split): the figures are of the split as the plan has it now.
        </p>
      )}
      <ProductTable />
      <OrderSeason />
      <FieldTable />
      <OrderGuides />
      <TakeCare />
      <Notices notices={doubts.value.order ?? []} />
    </Bench>
  );
}

/** Products with figures; where the plan as it is has none, those that it lays too: a price may be all that it lacks. */
function pricedProducts(): readonly string[] {
  const shown = productsOf(farmLines.value);
  return isFarmRefused.value ? [...new Set([...shown, ...laidProducts(plan.value!)])] : shown;
}

function ProductTable() {
  const of = plan.value!;
  const lines = farmLines.value;
  const shown = productsOf(lines);
  return (
    <WideTable label="Products">
      <table>
        <thead>
          <tr>
            <th scope="col">product</th>
            <FigureHeads
              of={[
                <>
                  strip,
                  <br />
                  {words().heavy}
                </>,
                "broadcast",
                "both",
                boughtIn() === "ton" ? "$ a ton" : "$ a short ton",
                "cost",
              ]}
            />
          </tr>
        </thead>
        <tbody>
          {pricedProducts().map((product) => {
            const lb = lbOf(lines, product);
            const ifShown = (figure: string) => (shown.includes(product) ? figure : UNKNOWN);
            const price = typedPrices(of)[product];
            return (
              <tr key={product}>
                <th scope="row">{product}</th>
                <td class="figure">{ifShown(heavy(lbOf(lines, product, "strip")))}</td>
                <td class="figure">{ifShown(heavy(lbOf(lines, product, "broadcast")))}</td>
                <td class="figure">
                  <b>{ifShown(heavy(lb))}</b>
                </td>
                <td class="figure">
                  <DraftInput
                    type="number"
                    class="price"
                    aria-label={`Price of ${product}, US dollars a short ton`}
                    min={0}
                    step={1}
                    value={price === undefined ? "" : String(price)}
                    disabled={readOnly.value}
                    onTake={(text) => {
                      const take = (usd: number | null) => {
                        if (usd !== (price ?? null)) edit(withPrice(of, product, usd));
                      };
                      if (text.trim() !== "")
                        return takeNumber(
                          text,
                          { least: 0.01, most: Number.POSITIVE_INFINITY, unit: "$" },
                          take,
                        );
                      take(null);
                      return null;
                    }}
                  />
                </td>
                <td class="figure">{price === undefined ? UNKNOWN : ifShown(dollars(tons(lb) * price))}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </WideTable>
  );
}

function FieldTable() {
  const of = plan.value!;
  const products = productsOf(farmLines.value);
  const names = new Map(of.fields.map(({ id, name }) => [id, name]));
  return (
    <table>
      <thead>
        <tr>
          <th scope="col">field</th>
          <th scope="col" class="figure">
            {words().area}
          </th>
          {products.map((product) => (
            <th key={product} scope="col" class="figure">
              {product}, {words().heavy}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {farmLines.value.map((line) => (
          <tr key={line.id}>
            <th scope="row">{names.get(line.id)}</th>
            <td class="figure">{area(line.areaAc)}</td>
            {products.map((product) => (
              <td key={product} class="figure">
                {heavy(lbOf([line], product))}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
