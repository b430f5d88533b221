/**
 * Ids for facts, made where the fact is typed: what is sent twice (a slow disk, a second press) is then recognized by
 * the ledger and not recorded twice. UUID version 7 (RFC 9562 §5.7): 48 bits of time, then chance.
 */
export function newId(now: number = Date.now()): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  let time = BigInt(now);
  for (let place = 5; place >= 0; place -= 1) {
    bytes[place] = Number(time & 0xffn);
    time >>= 8n;
  }
  bytes[6] = 0x70 | ((bytes[6] ?? 0) & 0x0f);
  bytes[8] = 0x80 | ((bytes[8] ?? 0) & 0x3f);
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}
