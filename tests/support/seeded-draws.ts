/**
 * A stream of draws from 0 up to below 1, the same for the same seed: xorshift32 (Marsaglia 2003, J. Stat. Softw. 8(14)), the
 * seed spread by a multiplication, 16 draws thrown away.
 */
export function seededDraws(seed: number): () => number {
  let state = Math.imul(seed, 0x9e3779b9) ^ 0x6a09e667;
  if (state === 0) state = 1;
  const next = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) / 2 ** 32;
  };
  for (let i = 0; i < 16; i++) next();
  return next;
}
