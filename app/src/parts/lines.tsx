/** Labels with their texts, a line each. */
export const Lines = ({ of }: { readonly of: readonly (readonly [label: string, text: string])[] }) => (
  <dl class="lines">
    {of.map(([label, text]) => (
      <div key={label}>
        <dt>{label}</dt>
        <dd>{text}</dd>
      </div>
    ))}
  </dl>
);
