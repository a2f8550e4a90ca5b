/** Numbers of a region's corner: place in the map's square from the origin, shade. */
export const CORNER_RECORD = 3;
/** Numbers at a corner of a line's stretch: both ends, how far along the line it begins, kind, shade. */
export const LINE_RECORD = 7;

/** Where a record's numbers go in. */
export const PLACE = 0;
export const SHADE = 1;
export const ENDS = 0;
export const ALONG_KIND_SHADE = 1;

/** Colours a region can have: every step of a ramp, and that of none before them. */
const SHADES = 8;

/** What a line is. Later ones are drawn over earlier ones. */
export const EDGE = 0;
export const NONE_EDGE = 1;
export const CASING = 2;
export const CRITICAL = 3;
const KINDS = 4;

export const regionCorners: string = `#version 300 es
precision highp float;
precision highp int;
uniform mat4 to_clip;
uniform vec3 shades[${SHADES}];
layout(location = ${PLACE}) in vec2 place;
layout(location = ${SHADE}) in float shade;
flat out vec3 colour;

void main() {
  vec4 at = to_clip * vec4(place, 0.0, 1.0);
  gl_Position = vec4(at.xy / at.w, 0.0, 1.0);
  colour = shades[int(shade)];
}`;

export const regionGround: string = `#version 300 es
precision mediump float;
flat in vec3 colour;
out vec4 shown;

void main() {
  shown = vec4(colour, 1.0);
}`;

/**
 * A stretch of a line as four corners, longer by half its width at either end so that stretches close up at a bend;
 * half a pixel more all around holds the edge's fading.
 */
export const lineCorners: string = `#version 300 es
precision highp float;
precision highp int;
uniform mat4 to_clip;
uniform vec2 view_px;
uniform float px_per_square;
uniform vec3 shades[${SHADES}];
uniform vec4 inks[${KINDS}];
uniform vec3 lines[${KINDS}];
layout(location = ${ENDS}) in vec4 ends;
layout(location = ${ALONG_KIND_SHADE}) in vec3 along_kind_shade;
out float off_px;
out float along_px;
flat out float half_px;
flat out vec2 dash_px;
flat out vec4 ink;
flat out vec4 region;

void main() {
  vec4 from = to_clip * vec4(ends.xy, 0.0, 1.0);
  vec4 to = to_clip * vec4(ends.zw, 0.0, 1.0);
  vec2 from_px = from.xy / from.w * view_px * 0.5;
  vec2 to_px = to.xy / to.w * view_px * 0.5;
  vec2 way = to_px - from_px;
  float long_px = length(way);
  if (long_px == 0.0) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    return;
  }
  way /= long_px;
  int kind = int(along_kind_shade.y);
  half_px = lines[kind].x * 0.5;
  dash_px = lines[kind].yz;
  ink = inks[kind];
  bool has_region = kind <= ${NONE_EDGE};
  region = vec4(shades[int(along_kind_shade.z)], has_region ? 1.0 : 0.0);
  float end = float(gl_VertexID >> 1 & 1);
  float side = float(gl_VertexID & 1) * 2.0 - 1.0;
  float more_px = (end * 2.0 - 1.0) * half_px;
  off_px = side * (max(half_px, 0.5) + 0.5);
  along_px = along_kind_shade.x * px_per_square + end * long_px + more_px;
  vec2 at_px = mix(from_px, to_px, end) + way * more_px + vec2(-way.y, way.x) * off_px;
  gl_Position = vec4(at_px / view_px * 2.0, 0.0, 1.0);
}`;

/** The line's ink; under it, at an edge, a pixel of its region's colour fading out, which makes the region's edge smooth. */
export const lineGround: string = `#version 300 es
precision highp float;
in float off_px;
in float along_px;
flat in float half_px;
flat in vec2 dash_px;
flat in vec4 ink;
flat in vec4 region;
out vec4 shown;

void main() {
  float away = abs(off_px);
  float line = clamp(half_px + 0.5 - away, 0.0, min(1.0, 2.0 * half_px));
  if (dash_px.y > 0.0 && mod(along_px, dash_px.y) > dash_px.x) line = 0.0;
  float fade = region.a * clamp(1.0 - away, 0.0, 1.0);
  shown = ink * line + vec4(region.rgb, 1.0) * fade * (1.0 - line);
}`;
