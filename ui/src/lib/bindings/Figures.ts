import type { Figure } from './Figure';
import type { FirmMonth } from './FirmMonth';
import type { MeasuredIn } from './MeasuredIn';
import type { Movement } from './Movement';

/** What each figure is called, what it is measured in, its rule and where the rule comes from. */
export const FIGURES: Readonly<
  Record<Figure, { label: string; measure: MeasuredIn; rule: string; source: string }>
> = {
  'price': {"label":"Price","measure":"money","rule":"The price in the contract, before sales tax.","source":"common practice"},
  'changes': {"label":"Changes","measure":"money","rule":"Approved changes of the customer's own and deducts, at their price. Once a job is canceled, what was billed is all that it will bring; the difference stands here.","source":"common practice"},
  'hidden-price': {"label":"Approved for hidden conditions","measure":"money","rule":"Approved change orders for hidden conditions, at their price; by time and material, at what the work came to.","source":"common practice"},
  'contract': {"label":"Contract","measure":"money","rule":"Price and every approved change.","source":"common practice"},
  'cost': {"label":"Cost","measure":"money","rule":"Bills with their tax where the firm bears it, direct costs, and hours with pay, overtime and burden. Of one code, without hidden conditions beyond the included sheets.","source":"29 CFR 778 for overtime; the spread over jobs is a company rule"},
  'committed': {"label":"Committed cost","measure":"money","rule":"Ordered less received before tax, code by code, never below zero; nothing once an order is complete.","source":"company rule"},
  'forecast': {"label":"Forecast cost","measure":"money","rule":"By code: spent and committed when the job has ended; the owner's own forecast; the pace of measured work; or the larger of spent and committed, and budget. Hidden conditions beyond the included sheets apart: the larger of spent and approved cost.","source":"company rule"},
  'uninstalled': {"label":"Uninstalled material","measure":"money","rule":"Material counted on site and not installed, at cost, code by code; never more than was bought and not returned. Nothing once the job has ended.","source":"ASC 606-10-55-187 ff., Example 19"},
  'complete': {"label":"Percent complete","measure":"share","rule":"(Cost − uninstalled) ÷ (forecast − uninstalled), never rounded and never above 1.","source":"ASC 606-10-55-187 ff., Example 19"},
  'earned': {"label":"Earned","measure":"money","rule":"(Contract − uninstalled) × percent complete + uninstalled, rounded once; of the uninstalled no more than the contract holds.","source":"ASC 606-10-55-187 ff., Example 19"},
  'billed': {"label":"Billed","measure":"money","rule":"Invoices less credit memos, before sales tax.","source":"common practice"},
  'over-billed': {"label":"Over-billed","measure":"money","rule":"Billed less earned, where that is above zero; never netted across jobs.","source":"common practice"},
  'under-billed': {"label":"Under-billed","measure":"money","rule":"Earned less billed, where that is above zero; never netted across jobs.","source":"common practice"},
  'loss-provision': {"label":"Loss provision","measure":"money","rule":"Where the forecast is above the contract, the whole loss less what is already booked.","source":"ASC 605-35-25-45 ff."},
  'retainage-held': {"label":"Retainage held","measure":"money","rule":"Entered on invoices, less what credit memos took off and what was released.","source":"common practice"},
  'received': {"label":"Received","measure":"money","rule":"Payments and credits applied to this job's invoices, less what its credit memos gave to other invoices or back to the customer.","source":"common practice"},
  'margin-sold': {"label":"Margin sold","measure":"money","rule":"Price less the cost in the contract.","source":"common practice"},
  'margin-sold-ratio': {"label":"Margin % sold","measure":"share","rule":"Margin sold ÷ price, never rounded but when shown.","source":"common practice"},
  'margin': {"label":"Margin","measure":"money","rule":"Contract less forecast; the margin made once the job has ended.","source":"common practice"},
  'margin-ratio': {"label":"Margin %","measure":"share","rule":"Margin ÷ contract, never rounded but when shown.","source":"common practice"},
  'hours': {"label":"Hours","measure":"hours","rule":"Hours worked. Of one code, without hidden conditions beyond the included sheets.","source":"common practice"},
  'hours-contracted': {"label":"Hours contracted","measure":"hours","rule":"Hours in the contract and in approved changes of the customer's own.","source":"common practice"},
  'crew-days': {"label":"Crew-days","measure":"crew-days","rule":"Crew hours ÷ (crew size × hours in its day), crew by crew, each day by the crew as it was that day.","source":"company rule"},
  'margin-per-crew-day': {"label":"Margin per crew-day","measure":"money","rule":"Margin made ÷ crew-days; for an open job, what is earned less what it cost so far.","source":"company rule"},
  'overhead': {"label":"Overhead","measure":"money","rule":"The firm's overhead rate on its chosen base, each day by the settings of that day.","source":"common practice"},
  'margin-after-overhead': {"label":"Margin after overhead","measure":"money","rule":"Margin less the overhead that the job bears.","source":"common practice"},
  'hidden-spent': {"label":"Spent on hidden conditions","measure":"money","rule":"Cost tied to conditions, less the share of the included sheets by count.","source":"company rule"},
  'hidden-billed': {"label":"Billed for hidden conditions","measure":"money","rule":"Billed of change orders, dealt to conditions by the price of their lines; a deduct lowers none.","source":"company rule"},
  'recovery': {"label":"Recovery","measure":"share","rule":"Billed ÷ spent on hidden conditions.","source":"company rule"},
  'unrecovered': {"label":"Unrecovered cost","measure":"money","rule":"Spent less billed, condition by condition, where nothing more will be billed. Never below zero.","source":"company rule"},
  'month-earned': {"label":"Earned in the month","measure":"money","rule":"Earned by the month's end, less earned by the end of the month before.","source":"common practice"},
  'month-cost': {"label":"Cost of the month","measure":"money","rule":"Cost by the month's end, less cost by the end of the month before.","source":"common practice"},
  'month-profit': {"label":"Gross profit","measure":"money","rule":"Earned less cost, less the change in losses foreseen.","source":"common practice"},
  'month-billed': {"label":"Billed in the month","measure":"money","rule":"Billed by the month's end, less billed by the end of the month before.","source":"common practice"},
  'month-over-billed': {"label":"Change in over-billed","measure":"money","rule":"Over-billed at the month's end, less over-billed at the end of the month before.","source":"common practice"},
  'month-under-billed': {"label":"Change in under-billed","measure":"money","rule":"Under-billed at the month's end, less under-billed at the end of the month before.","source":"common practice"},
  'month-loss-provision': {"label":"Change in loss provision","measure":"money","rule":"Loss provision at the month's end, less the one at the end of the month before.","source":"common practice"},
  'month-overhead': {"label":"Overhead of the month","measure":"money","rule":"Overhead by the month's end, less overhead by the end of the month before.","source":"common practice"},
  'margin-on-changes': {"label":"Margin on changes","measure":"money","rule":"A step of the margin walk: approved changes of the customer's own, their price less their contracted cost.","source":"common practice"},
  'material-price': {"label":"Price of materials","measure":"money","rule":"A step of the margin walk: what the material used would have cost at the contracted price, less what it cost.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'material-quantity': {"label":"Amount of materials","measure":"money","rule":"A step of the margin walk: the contracted cost of the work really done, less what the material used would have cost at the contracted price.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'material-unsplit': {"label":"Materials, not counted","measure":"money","rule":"A step of the margin walk: material without counted quantities, the contracted cost of the work really done less what it cost.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'labor-rate': {"label":"Pay an hour","measure":"money","rule":"A step of the margin walk: what the hours worked would have cost at the contracted pay, less what they cost.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'labor-hours': {"label":"Hours of work","measure":"money","rule":"A step of the margin walk: the contracted cost of the work really done, less what the hours worked would have cost at the contracted pay.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'subcontract': {"label":"Subcontractors","measure":"money","rule":"A step of the margin walk: work of other firms, the contracted cost of what is really done less what it cost.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'equipment-and-other': {"label":"Equipment, disposal and other","measure":"money","rule":"A step of the margin walk: equipment, disposal, permits and the rest, the contracted cost of what is really done less what it cost.","source":"standard-cost variances (OpenStax, Principles of Accounting, volume 2, chapter 8)"},
  'hidden-conditions': {"label":"Hidden conditions","measure":"money","rule":"A step of the margin walk: approved for hidden conditions, less what they cost or are expected to cost beyond the included sheets.","source":"company rule"},
  'still-to-come': {"label":"Still to come","measure":"money","rule":"A step of the margin walk: what the forecast expects of work not yet done, against its contracted cost.","source":"company rule"},
};

/** What the month added. */
export const IN_MONTH = [
  { figure: 'month-earned', field: 'earned' },
  { figure: 'month-cost', field: 'cost' },
  { figure: 'month-profit', field: 'profit' },
  { figure: 'month-overhead', field: 'overhead' },
  { figure: 'month-billed', field: 'billed' },
] as const satisfies readonly { figure: Figure; field: keyof Movement }[];

/** Where the firm stands, over the jobs of the month. */
export const TO_DATE = [
  { figure: 'contract', field: 'contract' },
  { figure: 'hidden-price', field: 'hidden_price' },
  { figure: 'cost', field: 'cost' },
  { figure: 'committed', field: 'committed' },
  { figure: 'forecast', field: 'forecast' },
  { figure: 'uninstalled', field: 'uninstalled' },
  { figure: 'earned', field: 'earned' },
  { figure: 'billed', field: 'billed' },
  { figure: 'over-billed', field: 'over_billed' },
  { figure: 'under-billed', field: 'under_billed' },
  { figure: 'margin-sold', field: 'margin_sold' },
  { figure: 'margin', field: 'margin' },
  { figure: 'loss-provision', field: 'loss_provision' },
  { figure: 'retainage-held', field: 'retainage_held' },
  { figure: 'overhead', field: 'overhead' },
  { figure: 'margin-after-overhead', field: 'margin_after_overhead' },
  { figure: 'hours', field: 'hours' },
] as const satisfies readonly { figure: Figure; field: keyof FirmMonth }[];
