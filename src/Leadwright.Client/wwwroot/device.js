// The few things that only the browser itself can do for the screens.
import { save } from './chart/save.js';

export function recall(name) {
  try { return localStorage.getItem(name); } catch { return null; }
}

export function keep(name, text) {
  // A private window or a full disk may refuse; the readings are still on the screen.
  try {
    localStorage.setItem(name, text);
    return true;
  } catch {
    return false;
  }
}

export function names(start) {
  try { return Object.keys(localStorage).filter(name => name.startsWith(start)).sort(); } catch { return []; }
}

export function forget(name) {
  try { localStorage.removeItem(name); } catch { }
}

export function language() {
  const language = navigator.language || 'en-US';
  const mark = new Intl.NumberFormat(language).formatToParts(1.5).find(part => part.type === 'decimal');
  return [language, mark?.value ?? '.'];
}

export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

export function saveFile(fileName, text) {
  const types = { html: 'text/html', csv: 'text/csv', json: 'application/json' };
  save(new Blob([text], { type: types[fileName.split('.').pop()] ?? 'text/plain' }), fileName);
}

export function printPage() {
  window.print();
}
