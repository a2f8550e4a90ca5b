declare module "geojson-validation" {
  interface GeoJsonValidation {
    /** With `trace`, the faults found, or none; looks at structure only. */
    valid(value: unknown, trace: true): string[];
  }
  const validation: GeoJsonValidation;
  export default validation;
}
