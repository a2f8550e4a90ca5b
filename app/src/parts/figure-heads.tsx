import type { ComponentChildren } from "preact";

/** Headings of columns of figures, over each other's right edge. */
export const FigureHeads = ({ of }: { readonly of: readonly ComponentChildren[] }) => (
  <>
    {of.map((words, k) => (
      <th key={k} scope="col" class="figure">
        {words}
      </th>
    ))}
  </>
);
