// The job page: sorting and filtering the table of fittings.
import { startTheme } from './theme.mjs';

document.addEventListener('DOMContentLoaded', () => {
  startTheme();
});
