import { configure, render, screen, waitFor, within } from '@testing-library/svelte';
import userEvent from '@testing-library/user-event';
import { describe, expect, it } from 'vitest';

import type { Question } from '../bindings/import/Question';
import type { Estimate } from '../bindings/Estimate';
import type { House } from '../bindings/House';
import type { Calculated } from '../bindings/Calculated';
import { SHINGLE_SIZES } from '../bindings/Labels';
import { toasts } from '../kit';
import { HouseFields } from '../roof';
import { showDecimal } from '../kit/decimal';
import { faults, hearKeys, main } from '../../../tests/page';
import { program, type Program } from '../../../tests/program';
import fixture from '../../../tests/fixtures/estimate.json';
import AcceptPart from './AcceptPart.svelte';
import ChoicesPart from './ChoicesPart.svelte';
import ComparePart from './ComparePart.svelte';
import EstimateLine from './EstimateLine.svelte';
import EstimatePage from './EstimatePage.svelte';
import { changeRecipe } from './edits';
import { namedParts } from './known';
import MovesPart from './MovesPart.svelte';
import { PARTS } from './parts';
import RoofPart from './RoofPart.svelte';
import SheetAdvice from './SheetAdvice.svelte';
import StandardsPart from './StandardsPart.svelte';
import TermsPart from './TermsPart.svelte';
import { REST_MS as SAVE_MS } from '../forms/draft';
import { Work } from './work.svelte';
import WorkingPart from './WorkingPart.svelte';

// Whether each element is drawn takes most of the time on a page this long, and nothing here is hidden.
configure({ defaultHidden: true });
hearKeys();

const estimate = fixture.estimate as Estimate;
const calculated = fixture.calculated as unknown as Calculated;
const locale = 'en-US';

type Answers = Parameters<typeof program>[0];

/** The made-up firm's program, with a job that has no contract yet. */
function door(answers: Answers = {}): Program {
  return program({
    job_page: () => fixture.page,
    rates: () => ({ parts: [], recipes: [] }),
    begin_estimate: () => structuredClone(estimate),
    calculate_estimate: () => structuredClone(calculated),
    ...answers,
  });
}

/** An estimate on the table, calculated, and the program that answers it. */
async function table(answers: Answers = {}): Promise<{ work: Work; opened: Program }> {
  const opened = door(answers);
  const work = new Work('26-900');
  await work.open();
  return { work, opened };
}

/** The whole page. */
async function shown(answers: Answers = {}): Promise<Program> {
  const opened = door(answers);
  render(EstimatePage, { target: main(), props: { number: '26-900', today: '2026-11-25', locale } });
  await screen.findByRole('group', { name: 'Estimate line' });
  return opened;
}

/** The estimate with which the program was last asked. */
const asked = (opened: Program) => opened.taken('calculate_estimate').at(-1)?.estimate as Estimate;

function of(letter: string) {
  const found = calculated.choices.find((choice) => choice.letter === letter);
  if (!found) throw new Error(`The fixture has no choice ${letter}.`);
  return found;
}

/** As the page writes money. */
const money = (value: string) => value.replace(/\B(?=(\d{3})+\.)/g, ',');

const checked = () => faults('page-has-heading-one');

describe('at the homeowner’s table', () => {
  it('T turns the page to choices, picture and prices, and leaves nothing of the firm’s own behind', async () => {
    const opened = await shown();
    const line = screen.getByRole('group', { name: 'Estimate line' });
    await waitFor(() => expect(line.textContent).toContain(money(of('B').price)));
    await userEvent.keyboard('t');
    await screen.findByRole('heading', { name: 'Your roof' });
    expect(screen.queryByRole('group', { name: 'Estimate line' })).toBeNull();
    expect(screen.getByRole('img', { name: 'The roof from above' })).toBeTruthy();
    const all = document.body.outerHTML;
    for (const choice of calculated.choices) {
      expect(all).toContain(choice.title);
      expect(all).toContain(`$${money(choice.total)}`);
      const own = [choice.cost, choice.margin, choice.overhead, choice.full_cost, choice.after_overhead];
      const amounts = [
        ...own,
        ...choice.parts.map((part) => part.cost),
        ...choice.labor.map((line) => line.cost),
      ];
      for (const amount of amounts.filter((each) => each !== '0.00' && each !== choice.price)) {
        expect(all).not.toContain(amount);
        expect(all).not.toContain(money(amount));
      }
      expect(all).not.toContain(choice.hours);
      for (const { vendor } of choice.parts) if (vendor) expect(all).not.toContain(vendor);
    }
    expect(all).not.toMatch(/margin|overhead|markup|crew-day|\bhours?\b|\bcost\b/i);
    expect(await checked()).toEqual([]);
    await userEvent.keyboard('t');
    expect(await screen.findByRole('group', { name: 'Estimate line' })).toBeTruthy();
    expect(opened.count('record')).toBe(0);
  });
});

it('takes the attic floor and the cuts from the roof until they are said', async () => {
  const measured = calculated.measured!;
  const open = { ...estimate.roof.house, attic_floor_sqft: null, cut_up: null };
  const changes: House[] = [];
  const onchange = (house: House) => changes.push(house);
  render(HouseFields, { target: main(), props: { house: open, measured, onchange, locale } });
  const floor = showDecimal(measured.attic_floor_sqft, { locale, most: 0 });
  expect(screen.getByText(new RegExp(`From the plan, ${floor} sq ft`))).toBeTruthy();
  expect(screen.getByText('As drawn: some hips, valleys or dormers')).toBeTruthy();
  const attic = screen.getByLabelText(/^Attic floor/);
  await userEvent.type(attic, '0{Tab}');
  expect(changes.at(-1)?.attic_floor_sqft).toBe('0');
  await userEvent.clear(attic);
  await userEvent.tab();
  expect(changes.at(-1)?.attic_floor_sqft).toBe(null);
  await userEvent.selectOptions(screen.getByLabelText('How cut up'), 'much');
  expect(changes.at(-1)?.cut_up).toBe('much');
  await userEvent.selectOptions(screen.getByLabelText('How cut up'), '');
  expect(changes.at(-1)?.cut_up).toBe(null);
});

describe('the estimate in one scroll', () => {
  it('asks before it is discarded, and undo brings all of it back', async () => {
    const opened = await shown();
    const press = (name: string) => userEvent.click(screen.getByText(name));
    const attic = screen.getByLabelText(/^Attic floor/);
    await userEvent.clear(attic);
    await userEvent.type(attic, '1717{Tab}');
    await waitFor(() => expect(asked(opened).roof.house.attic_floor_sqft).toBe('1717'));
    const before = JSON.stringify(asked(opened));
    await press('Discard it and start over');
    await press('Keep it');
    expect(opened.count('begin_estimate')).toBe(1);
    await press('Discard it and start over');
    await press('Discard it');
    await waitFor(() => expect(asked(opened).roof.house.attic_floor_sqft).toBe('1500'));
    await toasts.undo();
    await waitFor(() => expect(JSON.stringify(asked(opened))).toBe(before));
  });

  it('has its line on top, of the choice looked at, and goes to its nine parts by 1 to 9', async () => {
    await shown();
    const line = screen.getByRole('group', { name: 'Estimate line' });
    await waitFor(() => expect(line.textContent).toContain(money(of('B').price)));
    expect(line.textContent).toContain(money(of('B').cost));
    await userEvent.keyboard('a');
    expect(line.textContent).toContain(money(of('A').price));
    expect(within(line).getByRole('button', { name: /^A/ }).getAttribute('aria-pressed')).toBe('true');
    for (const { key, word } of PARTS) {
      await userEvent.keyboard(key);
      expect(document.activeElement?.textContent).toContain(word);
    }
    expect(screen.getByRole('region', { name: 'Cautions' }).textContent).toContain(
      calculated.cautions[0]!.words,
    );
    await userEvent.keyboard('0');
    expect(location.hash).toBe('#/job/26-900/contract');
  });

  it('says of its line when the figures are of the estimate as it was', () => {
    const props = {
      choices: estimate.choices,
      letter: 'B',
      squares: '19.7668',
      figures: of('B'),
      onlook: () => {},
    };
    render(EstimateLine, { target: main(), props: { ...props, stale: true } });
    const line = screen.getByRole('group', { name: 'Estimate line' });
    expect(line.textContent).toContain('figures as they were');
    expect(line.textContent).toContain('19.77');
    expect(line.getAttribute('aria-busy')).toBe('true');
  });

  it('is not offered once there is a contract', async () => {
    const answers = { job_page: () => ({ ...fixture.page, contract: {} }) };
    door(answers);
    render(EstimatePage, { target: main(), props: { number: '26-900', today: '2026-11-25', locale } });
    expect(await screen.findByText(/This job has its contract/)).toBeTruthy();
    expect(screen.queryByRole('button', { name: /^Accept/ })).toBeNull();
  });
});

describe('the working', () => {
  it('opens a part to its places, rule and steps, and all of them at once', async () => {
    render(WorkingPart, { target: main(), props: { figures: of('B'), locale } });
    const line = of('B').parts.find((part) => part.item === 'shingles')!;
    const row = within(screen.getByRole('table', { name: 'Parts' })).getByRole('button', {
      name: /Field shingles/,
    });
    await userEvent.click(row);
    expect(row.getAttribute('aria-expanded')).toBe('true');
    expect(screen.getByText(line.places[0]!.rule)).toBeTruthy();
    expect(screen.getAllByText(line.steps[0]!.words).length).toBeGreaterThan(0);
    await userEvent.click(screen.getByRole('button', { name: 'Open all workings' }));
    expect(screen.queryAllByRole('button', { expanded: false })).toEqual([]);
    expect(screen.getAllByRole('row', { name: new RegExp(`^In all.*${money(of('B').cost)}`) }).length).toBe(
      1,
    );
    expect(await checked()).toEqual([]);
  });
});

describe('code and company, choices, and what could go wrong', () => {
  it('show the code’s source, what changes and its price', async () => {
    render(StandardsPart, { target: main(), props: { differences: calculated.differences, locale } });
    const shownTable = screen.getByRole('table', { name: /Code and company standard/ });
    const point = calculated.differences.find((each) => each.items.length > 0 && each.code !== '0')!;
    expect(shownTable.textContent).toContain(point.words);
    expect(shownTable.textContent).toContain(point.code_source);
    expect(shownTable.textContent).toContain(`+${money(point.price)}`);
    expect(screen.getByText(/check your local code/)).toBeTruthy();
    expect(await checked()).toEqual([]);
  });

  it('compare line by line, and say where they differ in a word', async () => {
    const { choices, compared } = calculated;
    render(ComparePart, { target: main(), props: { choices, compared, locale } });
    const shownTable = screen.getByRole('table', { name: /choices compared/ });
    const rows = within(shownTable).getAllByRole('row');
    expect(rows.find((row) => row.textContent?.includes('Membrane'))?.textContent).toContain('differs');
    expect(rows.find((row) => row.textContent?.includes('Tear-off'))?.textContent).not.toContain('differs');
    expect(shownTable.textContent).toContain(money(of('A').total));
    await userEvent.click(screen.getByRole('checkbox', { name: 'Only what differs' }));
    expect(within(shownTable).getAllByRole('row').length).toBeLessThan(rows.length);
    expect(await checked()).toEqual([]);
  });

  it('say what could move the margin', () => {
    render(MovesPart, { target: main(), props: { figures: of('B'), locale } });
    const row = screen.getByRole('row', { name: /Shingles 5 % dearer/ });
    const setback = of('B').sensitivity.find((each) => each.setback === 'dearer-shingles')!;
    expect(row.textContent).toContain(money(setback.margin));
  });

  it('say what the history advises, with its chances as a table too', async () => {
    let used = '';
    render(SheetAdvice, {
      target: main(),
      props: { advice: calculated.advice, included: '0', locale, onuse: (sheets: string) => (used = sheets) },
    });
    const advice = screen.getByRole('region', { name: 'What the history advises' });
    expect(advice.textContent).toContain('8 jobs');
    expect(await checked()).toEqual([]);
    await userEvent.click(within(advice).getByRole('button', { name: /As a table/ }));
    expect(within(advice).getAllByRole('row').length).toBeGreaterThan(2);
    await userEvent.click(within(advice).getByRole('button', { name: /^Include/ }));
    expect(used).toBe(String(calculated.advice.covers_eight_in_ten));
  });
});

describe('changing it', () => {
  async function choices() {
    const { work, opened } = await table();
    const looked: string[] = [];
    const onlook = (letter: string) => looked.push(letter);
    const codes = [{ id: 'c', code: 'sundry', title: 'Sundry', unit: null, bought_in: null, position: 1 }];
    const firmsParts = namedParts(estimate, calculated);
    render(ChoicesPart, {
      target: main(),
      props: { work, letter: 'B', firmsParts, recipes: [], codes, onlook, locale },
    });
    return { work, opened, looked };
  }

  it('asks the program for every figure anew, once typing rests', async () => {
    const { opened } = await choices();
    const field = screen.getByLabelText('Margin left after overhead');
    await userEvent.clear(field);
    await userEvent.type(field, '22.5{Enter}');
    await waitFor(() => expect(asked(opened).choices[1]?.price).toEqual({ by: 'margin', value: '0.225' }));
    expect(asked(opened).choices[0]?.price).toEqual(estimate.choices[0]?.price);
    await userEvent.selectOptions(screen.getByLabelText('Price by'), 'A price set by us');
    await waitFor(() =>
      expect(asked(opened).choices[1]?.price).toEqual({ by: 'price', value: of('B').price }),
    );
  });

  it('asks how it is built by the fields of the firm’s own recipes', async () => {
    const { opened, work } = await choices();
    const built = () => work.estimate!.choices[1]!.recipe;
    await userEvent.selectOptions(screen.getByLabelText('Shingles'), 'Strips with tabs');
    expect(built()).toMatchObject({ shingle: 'strip', ...SHINGLE_SIZES.strip });
    const vents = within(screen.getByRole('group', { name: 'Vent 1' }));
    await userEvent.selectOptions(vents.getByLabelText('Vent'), 'Box vent');
    expect(built().exhaust[0]).toEqual({ vent: 'box-vent', free_area_sqin: '50', cfm: null, fixed: null });
    await userEvent.selectOptions(vents.getByLabelText('Vent'), 'Power vent');
    expect(built().exhaust[0]).toEqual({ vent: 'power-vent', free_area_sqin: '0', cfm: null, fixed: null });
    expect(built().intake).toEqual(estimate.choices[1]!.recipe.intake);
    const rows = screen.getByLabelText(/^Rows of membrane at eaves/);
    await userEvent.type(rows, '2{Enter}');
    expect(built().eave_rows).toBe(2);
    await userEvent.clear(rows);
    await userEvent.tab();
    expect(built().eave_rows).toBeNull();
    // Another answer from outside shows in the fields, too.
    work.set(changeRecipe(work.estimate!, 'B', { exposure_in: '7' }));
    await waitFor(() => expect(screen.getByLabelText<HTMLInputElement>(/^Shingle exposure/).value).toBe('7'));
    await waitFor(() => expect(asked(opened).choices[1]?.recipe).toEqual(built()));
  });

  it('takes another part, leaves an item out, and adds an extra and a choice', async () => {
    const { opened, work, looked } = await choices();
    await userEvent.selectOptions(screen.getByLabelText('Part for starter'), 'None chosen');
    await waitFor(() =>
      expect(asked(opened).choices[1]?.parts.some((part) => part.item === 'starter')).toBe(false),
    );
    await userEvent.click(screen.getByLabelText('Leave out starter'));
    await waitFor(() => expect(asked(opened).choices[1]?.left_out).toEqual(['starter']));
    await userEvent.click(screen.getByRole('button', { name: 'Add an extra' }));
    await userEvent.type(screen.getByLabelText('What for'), 'Chimney cap');
    await userEvent.selectOptions(screen.getByLabelText('Kind of cost'), 'Labor');
    await userEvent.type(screen.getByLabelText('Hours'), '2.5{Enter}');
    await waitFor(() =>
      expect(asked(opened).choices[1]?.extras[0]).toMatchObject({
        words: 'Chimney cap',
        cost_kind: 'labor',
        hours: '2.5',
      }),
    );
    await userEvent.click(screen.getByRole('button', { name: 'Add choice C, as a copy of B' }));
    expect(work.estimate?.choices.map((choice) => choice.letter)).toEqual(['A', 'B', 'C']);
    expect(looked).toEqual(['C']);
  });

  it('has nothing that the checker of accessibility finds', async () => {
    await choices();
    for (const closed of document.querySelectorAll('details')) closed.open = true;
    expect(await checked()).toEqual([]);
  });

  it('changes the terms: shares, unit prices, what is not covered', async () => {
    const { work, opened } = await table();
    render(TermsPart, { target: main(), props: { work, locale } });
    const share = screen.getAllByLabelText('Percent')[0]!;
    await userEvent.clear(share);
    await userEvent.type(share, '30{Enter}');
    await waitFor(() => expect(asked(opened).terms.payments[0]?.share).toBe('0.3'));
    const prices = work.estimate?.terms.unit_prices.length ?? 0;
    const offered = calculated.unit_prices[0]!;
    const deck = screen.getByRole('button', { name: `Add deck sheet at ${money(offered.price)}` });
    await userEvent.click(deck);
    expect(work.estimate?.terms.unit_prices.at(-1)).toEqual({
      damaged: offered.damaged,
      counted_in: offered.counted_in,
      price: offered.price,
    });
    expect(screen.getByText(offered.steps.at(-1)!.words)).toBeTruthy();
    await userEvent.click(screen.getByRole('button', { name: 'Add a unit price' }));
    expect(work.estimate?.terms.unit_prices.length).toBe(prices + 2);
    const lines = screen.getByLabelText(/^Not covered/);
    await userEvent.clear(lines);
    await userEvent.type(lines, 'Painting{Enter}{Enter}Gutters');
    await userEvent.tab();
    await waitFor(() => expect(asked(opened).terms.exclusions).toEqual(['Painting', 'Gutters']));
    expect(await checked()).toEqual([]);
  });

  it('says in words why a file was not taken, by line and column', async () => {
    const nothing = { sections: [], mapping: {}, problems: [], questions: [], unread: [] };
    const problem = { lines: [2], column: 'Pitch', message: 'It is missing.', remedy: 'Type it.', near: [] };
    const question: Question = {
      about: 'number_style',
      field: null,
      column: null,
      message: 'Is the mark in “1,200” for thousands or for decimals?',
      answers: [{ word: 'point', meaning: 'Numbers are written like 1,234.50.' }],
      lines: [2],
    };
    const { work, opened } = await table({
      read_roof_csv: ({ text, choices }) =>
        text.includes('back') && choices.number_style === 'point'
          ? { ...nothing, sections: estimate.roof.sections.slice(0, 1), unread: ['Gutter'] }
          : text.includes('back')
            ? { ...nothing, questions: [question] }
            : { ...nothing, problems: [problem] },
    });
    render(RoofPart, { target: main(), props: { work, locale } });
    await userEvent.click(screen.getByRole('button', { name: 'Read a CSV' }));
    const field = screen.getByLabelText('Roof measures, CSV');
    await userEvent.upload(field, new File(['section\nfront'], 'roof.csv', { type: 'text/csv' }));
    expect(await screen.findByText(/It is missing\.\s+Type it\./)).toBeTruthy();
    expect(screen.getByText('Line 2, column “Pitch”')).toBeTruthy();
    expect(asked(opened).roof.sections.length).toBe(estimate.roof.sections.length);
    await userEvent.upload(field, new File(['section\nback'], 'roof.csv', { type: 'text/csv' }));
    await userEvent.click(await screen.findByRole('button', { name: 'Numbers are written like 1,234.50.' }));
    expect(screen.queryByText('Line 2, column “Pitch”')).toBeNull();
    expect(await screen.findByText('1 section read from roof.csv. Not read: Gutter.')).toBeTruthy();
    await waitFor(() => expect(asked(opened).roof.sections.length).toBe(1));
  });
});

describe('accepting', () => {
  async function accept(answers: Answers = {}) {
    const { work, opened } = await table(answers);
    const [accepted, looked]: [string[], string[]] = [[], []];
    render(AcceptPart, {
      target: main(),
      props: {
        work,
        letter: 'B',
        today: '2026-11-25',
        locale,
        onlook: (letter: string) => looked.push(letter),
        onaccepted: (letter: string) => accepted.push(letter),
      },
    });
    return { work, opened, accepted, looked };
  }

  it('records the choice with who signed, and lets the draft go', async () => {
    const { work, opened, accepted } = await accept({
      accept_estimate: () => ({ roof: 'r', contract: 'p' }),
    });
    work.change({ north_deg: 15 });
    await work.keep();
    await waitFor(() => expect(work.waiting).toBe(false));
    await userEvent.type(screen.getByLabelText(/^Signed by/), 'Hester Vane');
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice B' }));
    await waitFor(() => expect(accepted).toEqual(['B']));
    expect(opened.taken('accept_estimate')[0]).toMatchObject({
      job: '26-900',
      estimate: { north_deg: 15 },
      acceptance: { letter: 'B', date: '2026-11-25', note: 'Signed by Hester Vane.', proposal: null },
    });
    expect(opened.taken('delete_draft').length).toBe(1);
    expect(await checked()).toEqual([]);
  });

  it('says what the program refuses, and that nothing was recorded', async () => {
    const { accepted } = await accept({
      accept_estimate: () => {
        throw {
          code: 'refused',
          field: 'job',
          message: 'this job already has its contract',
          remedy: 'Look.',
        };
      },
    });
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice B' }));
    expect(await screen.findByText(/already has its contract.*Nothing was recorded/)).toBeTruthy();
    expect(accepted).toEqual([]);
  });

  it('is refused in words while a problem stands, with a link to its field', async () => {
    const words = 'No part is chosen for this.';
    const missing = { field: 'parts.starter', section: null, edge: null, words };
    const { opened, looked } = await accept({
      calculate_estimate: () => ({
        ...structuredClone(calculated),
        choices: structuredClone(calculated.choices).map((choice) => ({ ...choice, problems: [missing] })),
      }),
    });
    expect(screen.getByRole('link', { name: 'To starter' }).getAttribute('href')).toBe(
      '#estimate-part-starter',
    );
    await userEvent.click(screen.getByRole('button', { name: 'Accept choice B' }));
    expect(await screen.findByText(/can’t be accepted while this stands in its way/)).toBeTruthy();
    expect(opened.taken('accept_estimate')).toEqual([]);
    expect(looked).toEqual([]);
  });
});

describe('the estimate at work', () => {
  const settled = () => new Promise((done) => setTimeout(done, SAVE_MS + 150));

  it('drops an answer to an older question', async () => {
    const waiting: ((answer: Calculated) => void)[] = [];
    const opened = door({
      calculate_estimate: () => new Promise<Calculated>((answer) => waiting.push(answer)),
    });
    const work = new Work('26-900');
    const ready = work.open();
    await waitFor(() => expect(waiting.length).toBe(1));
    waiting[0]!(structuredClone(calculated));
    await ready;
    work.change({ north_deg: 10 });
    await waitFor(() => expect(waiting.length).toBe(2));
    work.change({ north_deg: 20 });
    await waitFor(() => expect(waiting.length).toBe(3));
    const first = { ...structuredClone(calculated), cancel_by: '2001-01-01' };
    const second = { ...structuredClone(calculated), cancel_by: '2002-02-02' };
    waiting[2]!(second);
    await waitFor(() => expect(work.calculated?.cancel_by).toBe('2002-02-02'));
    waiting[1]!(first);
    await settled();
    expect(work.calculated?.cancel_by).toBe('2002-02-02');
    expect(work.waiting).toBe(false);
    expect(opened.taken('calculate_estimate').length).toBe(3);
  });

  it('leaves the last good figures in sight while the roof can’t be measured', async () => {
    const words = 'Section "front", edge 1: The edge has no length.';
    const problems = [{ field: 'roof', section: 'front', edge: 1, words }];
    let broken = false;
    door({
      calculate_estimate: () =>
        broken
          ? { ...structuredClone(calculated), measured: null, choices: [], compared: [], problems }
          : structuredClone(calculated),
    });
    const work = new Work('26-900');
    await work.open();
    broken = true;
    work.change({ north_deg: 10 });
    await waitFor(() => expect(work.waiting).toBe(false));
    expect(work.calculated?.problems).toEqual(problems);
    expect(work.calculated?.choices.map((choice) => choice.price)).toEqual([of('A').price, of('B').price]);
    await expect(work.measured(estimate.roof)).rejects.toThrow();
    broken = false;
    work.change({ north_deg: 20 });
    await waitFor(() => expect(work.calculated?.problems).toEqual([]));
    await work.keep();
  });

  it('keeps the draft a moment after the last change, finds it again, and saves at once when left', async () => {
    const opened = door();
    const work = new Work('26-900');
    await work.open();
    expect(opened.taken('save_draft')).toEqual([]);
    for (const north_deg of [1, 2, 3]) work.change({ north_deg });
    await settled();
    expect(opened.taken('save_draft').length).toBe(1);
    work.change({ north_deg: 90 });
    work.leave();
    await waitFor(() => expect(opened.taken('save_draft').length).toBe(2));
    const again = new Work('26-900');
    await again.open();
    expect(again.estimate?.north_deg).toBe(90);
    expect(again.resumed).toBeTruthy();
    const other = new Work('26-901');
    await other.open();
    expect(other.estimate?.north_deg).toBe(0);
  });

  it('says so when the draft can’t be kept, and tries again with the next change', async () => {
    let full = true;
    door({
      save_draft: () => {
        if (full) throw { code: 'disk', message: 'The disk is full.', remedy: 'Make room.' };
        return 'd';
      },
    });
    const work = new Work('26-900');
    await work.open();
    work.change({ north_deg: 5 });
    await work.keep();
    expect(work.unsaved).toBe('The disk is full. Make room.');
    full = false;
    await work.keep();
    expect(work.unsaved).toBe('');
  });

  it('waits with the measures until they are those of the roof as it is', async () => {
    door();
    const work = new Work('26-900');
    await work.open();
    work.change({ roof: { ...estimate.roof } });
    expect(work.waiting).toBe(true);
    const measured = await work.measured(work.estimate!.roof);
    expect(work.waiting).toBe(false);
    expect(measured.squares).toBe(calculated.measured?.squares);
  });
});
