/** How many numbers a corner's record holds: two ends, width and number; colour, share and gap lie beside it. */
export const RECORD = 6;

/** What a segment is drawn as. */
export const RULES = 0;
export const TICKS = 1;
export const HAIRLINES = 2;

/** px from dot to dot of the hairline where nothing comes, and of a dot. */
const NONE_PX = 5;
const NONE_DOT_PX = 1.6;
/** px from break to break of a rule that is broken across, and what of it is drawn. */
const BREAK_PX = 7;
const BROKEN_ON_PX = 4;

/**
 * A segment as four corners. Rules and hairlines run from end to end, ticks across the first end. Widths of rules are
 * ground, the others are pixels; half a pixel more on either side holds the edge's fading.
 */
export const passCorners: string = `#version 300 es
precision highp float;
precision highp int;
uniform mat4 to_clip;
uniform vec2 view_px;
uniform float px_per_m;
uniform float every;
uniform float line_px;
uniform int drawn_as;
layout(location = 0) in vec4 ends;
layout(location = 1) in vec2 width_and_number;
layout(location = 2) in vec4 colour;
layout(location = 3) in vec2 share_and_gap;
out float off_px;
out float along_px;
flat out float half_px;
flat out float gap_px;
flat out float is_broken;
flat out vec4 ink;

void main() {
  vec4 from = to_clip * vec4(ends.xy, 0.0, 1.0);
  vec4 to = to_clip * vec4(ends.zw, 0.0, 1.0);
  vec2 from_px = from.xy / from.w * view_px * 0.5;
  vec2 to_px = to.xy / to.w * view_px * 0.5;
  vec2 way = to_px - from_px;
  float long_px = length(way);
  float wide_px = width_and_number.x * px_per_m;
  half_px = (drawn_as == ${RULES} ? wide_px * every * share_and_gap.x : line_px) * 0.5;
  bool is_out = mod(width_and_number.y, every) != 0.0 && drawn_as != ${TICKS};
  if (is_out || half_px <= 0.0 || long_px == 0.0) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    return;
  }
  way /= long_px;
  vec2 across = vec2(-way.y, way.x);
  float end = float(gl_VertexID >> 1 & 1);
  float side = float(gl_VertexID & 1) * 2.0 - 1.0;
  off_px = side * (half_px + 0.5);
  ink = colour;
  // 0 in one piece, a half broken across, 1 parted along.
  gap_px = drawn_as == ${RULES} && share_and_gap.y > 0.75 ? max(0.7, half_px * 0.3) : 0.0;
  is_broken = drawn_as == ${RULES} && share_and_gap.y > 0.25 && share_and_gap.y < 0.75 ? 1.0 : 0.0;
  along_px = end * long_px;
  vec2 at_px = drawn_as == ${TICKS}
    ? from_px + across * wide_px * (end - 0.5) + way * off_px
    : mix(from_px, to_px, end) + across * off_px;
  gl_Position = vec4(at_px / view_px * 2.0, 0.0, 1.0);
}`;

export const passGround: string = `#version 300 es
precision highp float;
precision highp int;
uniform vec4 line_ink;
uniform int drawn_as;
in float off_px;
in float along_px;
flat in float half_px;
flat in float gap_px;
flat in float is_broken;
flat in vec4 ink;
out vec4 shown;

void main() {
  if (is_broken > 0.5 && mod(along_px, ${BREAK_PX.toFixed(1)}) > ${BROKEN_ON_PX.toFixed(1)}) discard;
  vec4 full = drawn_as == ${RULES} && abs(off_px) >= gap_px ? ink : line_ink;
  if (drawn_as == ${HAIRLINES} && ink.a == 0.0 && mod(along_px, ${NONE_PX.toFixed(1)}) > ${NONE_DOT_PX.toFixed(1)}) discard;
  shown = full * clamp(half_px + 0.5 - abs(off_px), 0.0, 1.0);
}`;

/** Where a segment's numbers go in. */
export const ENDS = 0;
export const WIDTH_AND_NUMBER = 1;
export const COLOUR = 2;
export const SHARE_AND_GAP = 3;
