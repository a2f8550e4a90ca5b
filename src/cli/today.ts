import { InputError } from "../errors/index.ts";
import { dayNumber } from "../season/index.ts";

/** The day of this computer's clock, YYYY-MM-DD. */
export function today(): string {
  const now = new Date();
  const two = (number: number): string => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** A typed day, else today. Throws `date-not-usable`. */
export function dayOr(text: string | undefined): string {
  if (text === undefined) return today();
  dayNumber(text);
  return text;
}

/** The plan folder an operand names; a ledger lies in it. Throws `no-plan-folder` for a zip or standard input. */
export function planFolder(operand: string): string {
  if (operand === "-" || /\.zip$/i.test(operand)) {
    throw new InputError(
      "no-plan-folder",
      `${operand}: a ledger is written beside plan.json, not into an archive`,
      "Unpack the plan into a folder and give that.",
    );
  }
  return operand.replace(/(^|[/\\])plan\.json$/, (_, before: string) => (before === "" ? "." : "")) || ".";
}
