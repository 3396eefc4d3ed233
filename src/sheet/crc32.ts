/** The checksum of ISO 3309 and IEEE 802.3: reflected polynomial 0xEDB88320, all ones before and after. */

const TABLE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let crc = byte;
  for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  return crc;
});

/** An unsigned 32-bit number; CRC-32 of the ASCII digits 1 to 9 is 0xCBF43926. */
export function crc32(bytes: Uint8Array): number {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = (crc >>> 8) ^ (TABLE[(crc ^ byte) & 255] as number);
  return (crc ^ 0xffffffff) >>> 0;
}
