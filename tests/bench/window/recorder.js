// Put into the page by the bench: from a key to the frame after the page has changed for it. The key's own time is
// when the system handed it in; the end is the second frame after the change, by when the first of them is drawn.
if (!window.bench) {
  let probe, before, begun, settle;
  const look = () => {
    if (begun === undefined || !probe || probe() === before) return;
    const from = begun;
    probe = undefined;
    const told = () => settle({ took: performance.now() - from, at: Date.now() });
    requestAnimationFrame(() => requestAnimationFrame(told));
  };
  // What changes without a trace in the document, as the value of a list does, is seen with the next frame.
  const watch = () => {
    look();
    if (probe) requestAnimationFrame(watch);
  };
  const all = { subtree: true, childList: true, attributes: true, characterData: true };
  new MutationObserver(look).observe(document, all);
  for (const each of ['input', 'focusin', 'scroll', 'hashchange']) window.addEventListener(each, look, true);
  const struck = (event) => {
    if (!probe || begun !== undefined || ['Alt', 'Control', 'Shift'].includes(event.key)) return;
    const now = performance.now();
    begun = event.timeStamp > now - 1000 && event.timeStamp <= now ? event.timeStamp : now;
    requestAnimationFrame(watch);
  };
  window.addEventListener('keydown', struck, true);
  window.bench = {
    answer: undefined,
    expect(change) {
      probe = change;
      before = change();
      begun = undefined;
      window.bench.answer = new Promise((resolve) => (settle = resolve));
    },
  };
}
