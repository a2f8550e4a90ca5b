import {
  allUsdText,
  boughtTonsText,
  costText,
  hasOrderRecord,
  laidProducts,
  leftOnHandWords,
  numberText,
  placedWords,
  signedText,
  suppliersText,
  UNKNOWN,
  USUAL_LOT_TONS,
  whatIfCost,
} from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { NeededLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { Notices } from "../parts/notices.tsx";
import { TroubleWords } from "../parts/trouble-words.tsx";
import { WideTable } from "../parts/wide-table.tsx";
import { boughtIn, dollars, mass, words } from "../state/figures.ts";
import { edit, plan } from "../state/opened.ts";
import { said } from "../state/said.ts";
import { withTerms } from "../state/season-edits.ts";
import { orderShown, seasonTrouble } from "../state/season-state.ts";
import { OrderEntryLine } from "./order-entry.tsx";

/** What a ton may cost more, to look at. */
const DEARER_SHARE = 0.1;

/** What to order with overlap, loss and stock, and where the booking stands. */
export function OrderSeason() {
  const order = orderShown.value?.order;
  if (seasonTrouble.value !== null)
    return (
      <>
        <div class="doubt" role="alert">
          <TroubleWords of={seasonTrouble.value} />
        </div>
        <Terms />
      </>
    );
  if (!order) return null;
  const { products } = order;
  const isBought = products.some(({ line }) => line.boughtTons > 0);
  const title = isBought ? "Bought and still to order" : "To order";
  const { usd, unpriced, unpricedInWords } = allUsdText(order);
  const tons = (part: "boughtTons" | "toOrderTons"): string =>
    boughtTonsText(products.reduce((sum, { line }) => sum + line[part], 0));
  return (
    <>
      <h3>{title}</h3>
      <WideTable label={title}>
        <table>
          <thead>
            <tr>
              <th scope="col">product</th>
              <th scope="col" class="figure">
                with
                <br />
                overlap
                <br />
                and loss,
                <br />
                {words().mass}
              </th>
              {isBought && (
                <th scope="col" class="figure">
                  bought,
                  <br />
                  {boughtIn()}s
                </th>
              )}
              <th scope="col" class="figure">
                {isBought ? (
                  <>
                    still to
                    <br />
                    order,
                    <br />
                    {boughtIn()}s
                  </>
                ) : (
                  <>
                    order,
                    <br />
                    {boughtIn()}s
                  </>
                )}
              </th>
              <th scope="col" class="figure">
                left
                <br />
                over, {words().mass}
              </th>
              <th scope="col" class="figure">
                cost
              </th>
              <th scope="col" class="figure">
                10 %
                <br />
                dearer
              </th>
            </tr>
          </thead>
          <tbody>
            {products.map((one) => {
              const { line, isPriced } = one;
              return (
                <tr key={line.product}>
                  <th scope="row">{line.product}</th>
                  <td class="figure">{mass(line.grossLb)}</td>
                  {isBought && <td class="figure">{boughtTonsText(line.boughtTons)}</td>}
                  <td class="figure">
                    <b>{boughtTonsText(line.toOrderTons)}</b>
                  </td>
                  <td class="figure">{mass(line.leftLb)}</td>
                  <td class="figure">{costText(one)}</td>
                  <td class="figure">
                    {isPriced
                      ? dollars(
                          line.boughtCost +
                            whatIfCost(line.toOrderTons, line.pricePerTon, line.freightPerTon, DEARER_SHARE),
                        )
                      : UNKNOWN}
                  </td>
                </tr>
              );
            })}
            <tr class="sum">
              <th scope="row">all</th>
              <td class="figure" />
              {isBought && <td class="figure">{tons("boughtTons")}</td>}
              <td class="figure">{tons("toOrderTons")}</td>
              <td class="figure" />
              <td class="figure">{unpriced === "" ? usd : UNKNOWN}</td>
              <td class="figure" />
            </tr>
          </tbody>
        </table>
      </WideTable>
      {[...placedWords(order), ...leftOnHandWords(order)].map((line) => (
        <p class="second small" key={line}>
          {line}
        </p>
      ))}
      {products.map((one) =>
        one.suppliers.length < 2 ? null : (
          <p class="second small" key={one.line.product}>
            {one.line.product}: {suppliersText(one)} {boughtIn()}s, bought and still to order.
          </p>
        ),
      )}
      {isBought && (
        <p class="second small">
          The cost is of what is bought, at its price, and of what is still to order.
        </p>
      )}
      {unpricedInWords !== "" && usd !== UNKNOWN && (
        <p class="second small">
          {usd} without {unpricedInWords}.
        </p>
      )}
      {hasOrderRecord({ plan: plan.value! }) && (
        <p class="second small">
          How far these amounts part by the readings of the need stands on the order sheet to print.
        </p>
      )}
      <Book />
      <Terms />
      <Notices notices={order.notices} />
    </>
  );
}

function Book() {
  const { book } = orderShown.value!.order;
  if (book.length === 0) return null;
  return (
    <WideTable label="Booked">
      <table>
        <caption class="small second">Booked, {boughtIn()}s</caption>
        <thead>
          <tr>
            <th scope="col">product</th>
            <th scope="col">supplier</th>
            <FigureHeads
              of={[
                "booked",
                "delivered",
                <>
                  still
                  <br />
                  due
                </>,
                "bought",
                <>
                  plan
                  <br />
                  now
                </>,
                <>
                  up or
                  <br />
                  down
                </>,
              ]}
            />
          </tr>
        </thead>
        <tbody>
          {book.map((one) => (
            <tr key={`${one.product} ${one.supplier}`}>
              <th scope="row">{one.product}</th>
              <td>{one.supplier}</td>
              <td class="figure">{boughtTonsText(one.bookedTons)}</td>
              <td class="figure">{boughtTonsText(one.deliveredTons)}</td>
              <td class="figure">{boughtTonsText(one.dueTons)}</td>
              <td class="figure">{boughtTonsText(one.boughtTons)}</td>
              <td class="figure">{one.plannedTons === null ? UNKNOWN : numberText(one.plannedTons, 1)}</td>
              <td class="figure">{one.changeTons === null ? UNKNOWN : signedText(one.changeTons, 1)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </WideTable>
  );
}

/** On hand, lots, and one more line of the record. */
function Terms() {
  const of = plan.value!;
  const products = laidProducts(of);
  const termOf = (id: string) => of.order?.terms?.find((one) => one.product === id);
  return (
    <Fold title="On hand and booking">
      {() => (
        <>
          <dl class="lines">
            {products.map((id) => (
              <NeededLine
                key={id}
                label={`${id} on hand`}
                unit="lb"
                value={termOf(id)?.onHandLb}
                onTake={(value) =>
                  edit(withTerms(of, id, { onHandLb: value }, `${id} on hand ${said(value)} lb`))
                }
              />
            ))}
            {products.map((id) => (
              <NeededLine
                key={id}
                label={`${id} ordered in lots of`}
                unit={`${boughtIn()}s`}
                value={termOf(id)?.lotTons ?? USUAL_LOT_TONS}
                least={0.01}
                onTake={(value) =>
                  edit(withTerms(of, id, { lotTons: value }, `${id} in lots of ${said(value)} tons`))
                }
              />
            ))}
          </dl>
          <OrderEntryLine />
        </>
      )}
    </Fold>
  );
}
