// Offline use; browsers allow it on https and localhost only.
if ('serviceWorker' in navigator) navigator.serviceWorker.register('service-worker.js', { updateViaCache: 'none' });
