/** How large text is set, as a share of the usual: what is drawn in pixels round words grows with them. */
export function textScale(): number {
  return parseFloat(getComputedStyle(document.documentElement).fontSize) / 16 || 1;
}
