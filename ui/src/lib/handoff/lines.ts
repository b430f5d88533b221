/** The lines of the journal in words. The firm gives each its own account name. */

import type { AccountRow } from '../bindings/AccountRow';

export const LINES: Partial<Record<AccountRow['line'], { title: string; what: string }>> = {
  bank: { title: 'Bank', what: 'where payments arrive' },
  receivable: { title: 'Receivable', what: 'invoices not yet paid' },
  'retainage-receivable': { title: 'Retainage receivable', what: 'held by customers as retainage' },
  'customer-credit': { title: 'Customers’ credit', what: 'payments not yet applied to an invoice' },
  'sales-tax-payable': { title: 'Sales tax payable', what: 'owed on what was billed' },
  payable: { title: 'Payable', what: 'suppliers’ and subcontractors’ bills' },
  'wages-payable': { title: 'Wages payable', what: 'pay earned by the crew' },
  'burden-payable': { title: 'Burden payable', what: 'taxes, insurance and benefits on pay' },
  'costs-applied': { title: 'Costs applied', what: 'direct costs of jobs, without a bill' },
  'cost-material': { title: 'Cost: material', what: 'of jobs' },
  'cost-labor': { title: 'Cost: labor', what: 'of jobs' },
  'cost-subcontract': { title: 'Cost: subcontract', what: 'of jobs' },
  'cost-equipment': { title: 'Cost: equipment', what: 'of jobs' },
  'cost-disposal': { title: 'Cost: disposal', what: 'of jobs' },
  'cost-permit': { title: 'Cost: permits', what: 'of jobs' },
  'cost-other': { title: 'Cost: other', what: 'of jobs' },
  revenue: { title: 'Revenue', what: 'earned on contracts' },
  'under-billed': { title: 'Under-billed', what: 'earned and not yet billed, job by job' },
  'over-billed': { title: 'Over-billed', what: 'billed and not yet earned, job by job' },
  'loss-provision': { title: 'Loss provision', what: 'losses foreseen on open jobs' },
  'loss-expense': { title: 'Loss expense', what: 'the cost of foreseeing them' },
};
