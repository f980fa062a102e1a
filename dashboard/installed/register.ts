// Asks the browser to keep the shell of this build, where it can: only over HTTPS, or on the service's own computer.

export function keepShell(): void {
  if (!isSecureContext || !('serviceWorker' in navigator)) return;
  // Refused in some kiosks and private windows: everything works without it while the service is there.
  navigator.serviceWorker.register('/worker.js', { updateViaCache: 'none' }).catch(() => undefined);
}
