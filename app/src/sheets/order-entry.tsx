import { useState } from "preact/hooks";
import { boughtTonsText, laidProducts, oneNameEach } from "#core";
import { typedNumber } from "../parts/take-number.ts";
import { boughtIn } from "../state/figures.ts";
import { edit, plan, readOnly } from "../state/opened.ts";
import { withBooking } from "../state/season-edits.ts";
import { orderShown } from "../state/season-state.ts";

type Kind = "booked" | "delivered" | "cancelled";
const KINDS: readonly Kind[] = ["booked", "delivered", "cancelled"];

/** Who sells a product by the plan's terms and its record, each once. */
function suppliersOf(product: string): string[] {
  const { terms = [], book = [] } = plan.value!.order ?? {};
  const own = oneNameEach([...terms, ...book]).filter((one) => one.product === product);
  return [...new Set(own.map(({ supplier }) => supplier))];
}

/** One more line of the record of the order. */
export function OrderEntryLine() {
  const of = plan.value!;
  const products = laidProducts(of);
  const [product, setProduct] = useState(products[0]!);
  const [kind, setKind] = useState<Kind>("booked");
  const [typed, setTyped] = useState("");
  const [date, setDate] = useState(of.date);
  const [chosen, setChosen] = useState("");
  const tons = typed.trim() === "" ? undefined : typedNumber(typed);
  const isNoNumber = tons !== undefined && Number.isNaN(tons);
  const known = suppliersOf(product);
  const supplier = known.includes(chosen) ? chosen : (known[0] ?? "supplier");
  const stood = orderShown.value?.order.book.find((one) => one.product === product)?.bySupplier;
  const delivered = stood?.find((one) => one.supplier === supplier)?.deliveredTons ?? 0;
  const isTooMuch = kind === "delivered" && tons !== undefined && delivered + tons < -1e-9;
  const isMeant =
    tons !== undefined && !isNoNumber && (kind === "delivered" ? tons !== 0 : tons > 0) && date !== "";
  return (
    <>
      <p class="row-of-inputs">
        <Choice label="What happened" of={KINDS} value={kind} onTake={(value) => setKind(value as Kind)} />{" "}
        <Choice label="Product" of={products} value={product} onTake={setProduct} />{" "}
        {known.length > 1 && (
          <>
            <Choice label="Supplier" of={known} value={supplier} onTake={setChosen} />{" "}
          </>
        )}
        <input
          type="text"
          aria-label="Tons"
          class="price"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
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
          disabled={readOnly.value || !isMeant || isTooMuch}
          onClick={() => {
            edit(withBooking(of, { date, kind, product, supplier, tons: tons! }));
            setTyped("");
          }}
        >
          Enter it in the record
        </button>
      </p>
      {isNoNumber && (
        <p class="flag-text" role="status">
          {typed} is no number: decimals behind a point, nothing between thousands.
        </p>
      )}
      {kind !== "delivered" && tons !== undefined && tons <= 0 && (
        <p class="flag-text" role="status">
          {kind === "booked" ? "What is booked" : "What is cancelled"} is a number above 0
          {tons < 0 && kind === "booked" ? "; to book less, choose “cancelled”" : ""}.
        </p>
      )}
      {kind === "delivered" && tons === 0 && (
        <p class="flag-text" role="status">
          What is delivered is a number above 0, or with a minus what was taken back.
        </p>
      )}
      {isTooMuch && (
        <p class="flag-text">
          {boughtTonsText(delivered)} {boughtIn()}s of {product} are delivered by {supplier}: no more can be
          taken back.
        </p>
      )}
      <p class="second small">
        The record keeps every line. A delivery is taken back by “delivered” with a minus; “cancelled” takes
        off what is booked and not yet delivered.
      </p>
    </>
  );
}

function Choice({
  label,
  of,
  value,
  onTake,
}: {
  readonly label: string;
  readonly of: readonly string[];
  readonly value: string;
  readonly onTake: (value: string) => void;
}) {
  return (
    <select aria-label={label} value={value} onChange={(event) => onTake(event.currentTarget.value)}>
      {of.map((one) => (
        <option key={one} value={one}>
          {one}
        </option>
      ))}
    </select>
  );
}
