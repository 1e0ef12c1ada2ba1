/** How a comparison and a show check are saved, in the order in which it is offered. */
export const SAVED_FORMATS = [
  { format: 'pdf', name: 'PDF, to print' },
  { format: 'html', name: 'Web page, to send' },
  { format: 'csv', name: 'Table (CSV)' },
  { format: 'json', name: 'All numbers (JSON)' },
] as const
