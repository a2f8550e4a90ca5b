import { useState } from "preact/hooks";
import { hasOrderRecord, laidProducts, numberText } from "#core";
import { FigureHeads } from "../parts/figure-heads.tsx";
import { NeededLine } from "../parts/figure-line.tsx";
import { Fold } from "../parts/fold.tsx";
import { Notices } from "../parts/notices.tsx";
import { WideTable } from "../parts/wide-table.tsx";
import { boughtIn, dollars, mass, words } from "../state/figures.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { said } from "../state/said.ts";
import { withBooking, withTerms } from "../state/season-edits.ts";
import { orderShown } from "../state/season-state.ts";

const signed = (tons: number): string => `${tons > 0 ? "+" : ""}${numberText(tons, 1)}`;

/** What to order with overlap, loss and stock, and where the booking stands. */
export function OrderSeason() {
  const order = orderShown.value?.order;
  if (!order) return null;
  const isPriced = order.products.every(({ line }) => order.priced[line.product] === true);
  return (
    <>
      <h3>To order</h3>
      <WideTable label="To order">
        <table>
          <thead>
            <tr>
              <th scope="col">product</th>
              <th scope="col" class="figure">
                with overlap
                <br />
                and loss, {words().mass}
              </th>
              <th scope="col" class="figure">
                order,
                <br />
                {boughtIn()}s
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
            {order.products.map(({ line }) => {
              const priced = order.priced[line.product] === true;
              return (
                <tr key={line.product}>
                  <th scope="row">{line.product}</th>
                  <td class="figure">{mass(line.grossLb)}</td>
                  <td class="figure">
                    <b>{numberText(line.orderTons, 1)}</b>
                  </td>
                  <td class="figure">{mass(line.leftLb)}</td>
                  <td class="figure">{priced ? dollars(line.cost) : "–"}</td>
                  <td class="figure">
                    {priced
                      ? dollars(line.cost + 0.1 * order.toOrderTons[line.product]! * priceOf(line.product))
                      : "–"}
                  </td>
                </tr>
              );
            })}
            {isPriced && (
              <tr class="sum">
                <th scope="row">to pay</th>
                <td class="figure" />
                <td class="figure">
                  {numberText(
                    order.products.reduce((sum, { line }) => sum + line.orderTons, 0),
                    1,
                  )}
                </td>
                <td class="figure" />
                <td class="figure">
                  {dollars(order.products.reduce((sum, { line }) => sum + line.cost, 0))}
                </td>
                <td class="figure" />
              </tr>
            )}
          </tbody>
        </table>
      </WideTable>
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

const priceOf = (product: string): number => plan.value!.pricesUsdPerTon?.[product] ?? 0;

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
            <FigureHeads of={["booked", "delivered", "still due", "plan, up or down"]} />
          </tr>
        </thead>
        <tbody>
          {book.map((one) => (
            <tr key={`${one.product} ${one.supplier}`}>
              <th scope="row">{one.product}</th>
              <td>{one.supplier}</td>
              <td class="figure">{numberText(one.bookedTons, 1)}</td>
              <td class="figure">{numberText(one.deliveredTons, 1)}</td>
              <td class="figure">{numberText(one.dueTons, 1)}</td>
              <td class="figure">{one.changeTons === null ? "–" : signed(one.changeTons)}</td>
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
  const [product, setProduct] = useState(products[0]!);
  const [kind, setKind] = useState<"booked" | "delivered" | "cancelled">("booked");
  const [tons, setTons] = useState<number | undefined>(undefined);
  const [date, setDate] = useState(of.date);
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
                value={termOf(id)?.lotTons ?? 0.1}
                least={0.01}
                onTake={(value) =>
                  edit(withTerms(of, id, { lotTons: value }, `${id} in lots of ${said(value)} tons`))
                }
              />
            ))}
          </dl>
          <p class="row-of-inputs">
            <select
              aria-label="What happened"
              value={kind}
              onChange={(event) => setKind(event.currentTarget.value as "booked")}
            >
              <option value="booked">booked</option>
              <option value="delivered">delivered</option>
              <option value="cancelled">cancelled</option>
            </select>{" "}
            <select
              aria-label="Product"
              value={product}
              onChange={(event) => setProduct(event.currentTarget.value)}
            >
              {products.map((id) => (
                <option key={id} value={id}>
                  {id}
                </option>
              ))}
            </select>{" "}
            <input
              type="number"
              aria-label="Tons"
              min={0}
              step={0.1}
              class="price"
              value={tons ?? ""}
              onInput={(event) =>
                setTons(event.currentTarget.value === "" ? undefined : event.currentTarget.valueAsNumber)
              }
            />{" "}
            {boughtIn()}s on{" "}
            <input
              type="date"
              aria-label="Date"
              value={date}
              onChange={(event) => setDate(event.currentTarget.value)}
            />{" "}
            <button
              type="button"
              class="aside"
              disabled={readOnly.value || !(tons !== undefined && tons > 0) || date === ""}
              onClick={() => {
                const supplier = termOf(product)?.supplier ?? "supplier";
                edit(withBooking(of, { date, kind, product, supplier, tons: tons! }));
                setTons(undefined);
              }}
            >
              Enter it in the record
            </button>
          </p>
          <p class="second small">The record keeps every line; take one back with “cancelled”.</p>
        </>
      )}
    </Fold>
  );
}
