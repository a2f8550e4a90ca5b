import { type Polygon, WRITTEN_DECIMALS } from "../geo/index.ts";
import type { Feature } from "./feature.ts";
import { escapeXml, xmlElement } from "./write-xml.ts";

interface KmlContent {
  readonly name: string;
  /** Polygons in longitude and latitude; every property becomes extended data. */
  readonly features: readonly Feature[];
  /** What a placemark is called. */
  readonly title: (feature: Feature) => string;
  /** How dark it is drawn, 0 to 1. */
  readonly shade: (feature: Feature) => number;
}

const SHADES = 6;

/**
 * A KML 2.2 document (OGC 07-147r2) for looking at a map over a picture of the land: one placemark a feature, longitude
 * and latitude to 9 decimals, no blank inside a tuple, no link to anything. The same content gives the same bytes.
 * Throws a plain Error on a feature that is not polygons.
 */
export function writeKml(content: KmlContent): Uint8Array<ArrayBuffer> {
  const lines = [
    `<?xml version="1.0" encoding="UTF-8"?>`,
    `<kml xmlns="http://www.opengis.net/kml/2.2"><Document>`,
    `<name>${escapeXml(content.name)}</name>`,
    ...Array.from({ length: SHADES }, (_, k) => style(k)),
    ...content.features.map((feature) => placemark(feature, content)),
    "</Document></kml>",
    "",
  ];
  return new TextEncoder().encode(lines.join("\n"));
}

/** From pale to dark, half through; KML colours are alpha, blue, green, red. */
function style(shade: number): string {
  const part = (light: number, dark: number) =>
    Math.round(light + ((dark - light) * shade) / (SHADES - 1))
      .toString(16)
      .padStart(2, "0");
  const fill = `b0${part(0xd0, 0x18)}${part(0xe8, 0x38)}${part(0xf4, 0x60)}`;
  return `<Style id="s${shade}"><LineStyle><color>ff303030</color><width>0.5</width></LineStyle><PolyStyle><color>${fill}</color></PolyStyle></Style>`;
}

function placemark(feature: Feature, { title, shade }: KmlContent): string {
  const { geometry } = feature;
  if (geometry?.kind !== "polygon" || geometry.polygons.length === 0) {
    throw new Error(`feature ${feature.record} is not polygons`);
  }
  const parts = geometry.polygons.map(polygonText);
  const shape = parts.length === 1 ? parts[0]! : `<MultiGeometry>${parts.join("")}</MultiGeometry>`;
  const data = Object.entries(feature.properties).map(([name, value]) =>
    xmlElement("Data", { name }, [`<value>${escapeXml(value === null ? "" : String(value))}</value>`]),
  );
  const level = Math.min(SHADES - 1, Math.max(0, Math.round(shade(feature) * (SHADES - 1))));
  return `<Placemark><name>${escapeXml(title(feature))}</name><styleUrl>#s${level}</styleUrl><ExtendedData>${data.join("")}</ExtendedData>${shape}</Placemark>`;
}

function polygonText(polygon: Polygon): string {
  const rings = polygon.map((ring, k) => {
    const tuples = [...ring, ring[0]!].map((point) =>
      point.map((degrees) => degrees.toFixed(WRITTEN_DECIMALS)).join(","),
    );
    const text = `<LinearRing><coordinates>${tuples.join(" ")}</coordinates></LinearRing>`;
    return k === 0
      ? `<outerBoundaryIs>${text}</outerBoundaryIs>`
      : `<innerBoundaryIs>${text}</innerBoundaryIs>`;
  });
  return `<Polygon>${rings.join("")}</Polygon>`;
}
