// Offline use; browsers allow it on https and localhost only. Keeping the files fetches them all again: it waits until the first page stands, so as not to delay it.
if ('serviceWorker' in navigator) {
  const keep = () => navigator.serviceWorker.register('service-worker.js', { updateViaCache: 'none' });
  const app = document.getElementById('app');
  const standing = new MutationObserver(() => {
    if (app.querySelector('.starting')) return;
    standing.disconnect();
    keep();
  });
  standing.observe(app, { childList: true, subtree: true });
}
