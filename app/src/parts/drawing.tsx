interface DrawingProps {
  /** SVG made by the engine's drawings; its texts are escaped there. */
  readonly svg: string;
  /** What it shows, in words. */
  readonly about: string;
}

/** A drawing that page, command line and print share. */
export const Drawing = ({ svg, about }: DrawingProps) => (
  <div role="img" aria-label={about} dangerouslySetInnerHTML={{ __html: svg }} />
);
