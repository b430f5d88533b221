/** The parts of the bookkeeper's desk. */

export const PARTS = [
  { id: 'bills', title: 'Bills' },
  { id: 'vendors', title: 'Owed to vendors' },
  { id: 'overhead', title: 'Overhead' },
  { id: 'customers', title: 'Customers' },
  { id: 'bank', title: 'Bank' },
  { id: 'loose-ends', title: 'Loose ends' },
] as const;

export type PartId = (typeof PARTS)[number]['id'];

export function partOf(word: string | undefined): PartId {
  return PARTS.find((part) => part.id === word)?.id ?? 'bills';
}
