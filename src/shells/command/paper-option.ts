/** `--paper`: which pages a report makes. */
import { Option } from 'commander';
import { PAPERS } from '../../report/html/style.ts';

export function paperOption(): Option {
  return new Option('--paper <paper>', 'pages of a PDF report').choices(PAPERS).default('a4');
}
