/** Keeps spreadsheets from running what is only text. */

const NUMBER = /^-\d+([.,]\d+)*$/;

/**
 * A text a spreadsheet would take for a formula, with a straight apostrophe before it; numbers below zero stay as they are.
 * Which first letters are dangerous: the OWASP page on CSV injection (from memory).
 */
export const guardedText = (text: string): string =>
  /^[=+@\t\r]/.test(text) || (text.startsWith('-') && !NUMBER.test(text)) ? `'${text}` : text;
