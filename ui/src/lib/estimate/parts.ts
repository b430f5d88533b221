/** The parts of the estimate, in the order of the kitchen table, and the keys that reach them. */

export type PartId =
  'roof' | 'house' | 'choices' | 'working' | 'standards' | 'compare' | 'moves' | 'terms' | 'accept';

export const PARTS: readonly { id: PartId; key: string; word: string }[] = [
  { id: 'roof', key: '1', word: 'Roof' },
  { id: 'house', key: '2', word: 'House' },
  { id: 'choices', key: '3', word: 'Choices' },
  { id: 'working', key: '4', word: 'Working' },
  { id: 'standards', key: '5', word: 'Code and company' },
  { id: 'compare', key: '6', word: 'Compare' },
  { id: 'moves', key: '7', word: 'What could move it' },
  { id: 'terms', key: '8', word: 'Terms' },
  { id: 'accept', key: '9', word: 'Accept' },
];
