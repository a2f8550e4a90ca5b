const TABLE: Uint32Array = Uint32Array.from({ length: 256 }, (_, index) => {
  let value = index;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? 0xedb88320 ^ (value >>> 1) : value >>> 1;
  return value;
});

/** The checksum of zip entries (CRC-32, polynomial 0x04C11DB7 reflected). */
export function crc32(bytes: Uint8Array): number {
  let value = ~0;
  for (const byte of bytes) value = (TABLE[(value ^ byte) & 0xff] ?? 0) ^ (value >>> 8);
  return ~value >>> 0;
}
