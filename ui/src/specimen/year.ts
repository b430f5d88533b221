/** A made-up year for the specimen sheet: not the sample firm's, only figures of every kind. */

import type { Age, DayPoint, Step, YearJob } from '../lib/pictures';
import { fromMinor } from '../lib/kit/money';

const ROADS = [
  'Alder',
  'Birch',
  'Cedar',
  'Dogwood',
  'Elm',
  'Fir',
  'Ginkgo',
  'Hazel',
  'Juniper',
  'Larch',
  'Maple',
  'Oak',
];

/** So many jobs, the same every time. */
export function yearOf(count: number): YearJob[] {
  let seed = 7n;
  const next = (below: bigint) => {
    seed = (seed * 6_364_136_223_846_793_005n + 1_442_695_040_888_963_407n) % 18_446_744_073_709_551_616n;
    return (seed >> 33n) % below;
  };
  return Array.from({ length: count }, (_, index) => {
    const sold = 700_000n + next(2_600_000n);
    const cost = (sold * (62n + next(48n))) / 100n;
    const road = ROADS[index % ROADS.length] ?? 'Oak';
    return {
      id: `job-${index + 1}`,
      name: `${road} Lane ${Number(next(200n)) + 1}`,
      sold: fromMinor(sold),
      cost: fromMinor(cost),
      margin: fromMinor(sold - cost),
    };
  });
}

export const WALK: { sold: string; steps: Step[]; made: string } = {
  sold: '6420.00',
  steps: [
    { id: 'price', label: 'Price of materials', amount: '-312.40' },
    { id: 'quantity', label: 'Quantity of materials', amount: '-488.15' },
    { id: 'rate', label: 'Rate of pay', amount: '64.00' },
    { id: 'hours', label: 'Hours', amount: '-1204.50' },
    { id: 'other', label: 'Subcontract and other', amount: '0.00' },
    { id: 'hidden', label: 'Hidden conditions', amount: '-655.20' },
  ],
  made: '3823.75',
};

export const HOURS: DayPoint[] = [
  { date: '2026-05-04', plan: '0', worked: '0' },
  { date: '2026-05-05', plan: '32', worked: '30.5' },
  { date: '2026-05-06', plan: '64', worked: '68' },
  { date: '2026-05-07', plan: '96', worked: '105.25' },
  { date: '2026-05-08', plan: '112' },
];

export const AGES: Age[] = [
  { id: 'current', label: 'Not yet due', amount: '18240.00', count: 3, lateness: 'current' },
  { id: '1-30', label: '1–30 days late', amount: '9410.50', count: 2, lateness: 'late' },
  { id: '31-60', label: '31–60 days late', amount: '0.00', count: 0, lateness: 'late' },
  { id: '61-90', label: '61–90 days late', amount: '2150.00', count: 1, lateness: 'very late' },
  { id: '90', label: 'Over 90 days late', amount: '3980.75', count: 1, lateness: 'very late' },
  { id: 'held', label: 'Retainage held', amount: '4120.00', count: 4, lateness: 'held' },
];
