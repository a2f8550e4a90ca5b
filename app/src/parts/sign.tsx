/** The mark: berms in section. */
export const BermSign = () => (
  <svg class="berm-sign" viewBox="0 0 34 18" aria-hidden="true">
    <path
      d="M1 15h3l3-12h5l3 12h2l3-12h5l3 12h5"
      fill="none"
      stroke="currentColor"
      stroke-width="2"
      stroke-linejoin="round"
    />
    <path d="M9.5 0v3" stroke="currentColor" stroke-width="1.4" />
  </svg>
);

/** A flag: a doubt. Its count stands beside it in words for those who do not see it. */
export const Flag = ({ count }: { count: number }) =>
  count === 0 ? null : (
    <span class="count">
      <span aria-hidden="true">⚑ </span>
      {count}
      <span class="unseen"> {count === 1 ? "doubt" : "doubts"}</span>
    </span>
  );
