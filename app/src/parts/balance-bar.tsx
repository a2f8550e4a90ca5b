import type { BalanceFigures } from "#core";

const WIDE = 150;
const HIGH = 12;

/** Need as a bar: its ruled part lies in the strip, its dotted part is broadcast later, what is blank is short. */
export function BalanceBar({ balance }: { balance: BalanceFigures }) {
  const { needLb, stripLb, broadcastLb } = balance;
  const px = (lb: number) => (needLb > 0 ? Math.min(WIDE, (WIDE * lb) / needLb) : 0);
  const ruled = px(stripLb);
  const dotted = Math.min(WIDE, ruled + px(broadcastLb));
  let rules = "";
  for (let x = 2; x < ruled - 1; x += 3.2) rules += `M${x.toFixed(1)} 1V${HIGH - 1}`;
  let dots = "";
  for (let row = 0; row < 2; row++) {
    for (let x = ruled + 4 + row * 3; x < dotted - 2; x += 6) dots += `M${x.toFixed(1)} ${4 + row * 4}h0`;
  }
  return (
    <svg class="bar-of-balance" viewBox={`0 0 ${WIDE} ${HIGH}`} preserveAspectRatio="none" aria-hidden="true">
      <path d={rules} stroke="var(--ink)" stroke-width="1.5" />
      <path d={dots} stroke="var(--ink)" stroke-width="2" stroke-linecap="round" />
      <path d={`M${ruled} 0V${HIGH}`} stroke="var(--ink)" stroke-width="1" />
      <rect x="0.5" y="0.5" width={WIDE - 1} height={HIGH - 1} fill="none" stroke="var(--ink)" />
    </svg>
  );
}
