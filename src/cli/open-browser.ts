/** Shows an address in the person's own browser, where there is one. */
import { spawn } from 'node:child_process';

/** @param env of the process @param platform as Node names it @returns whether somebody sits before a screen here */
export function hasScreen(env: NodeJS.ProcessEnv, platform: NodeJS.Platform): boolean {
  if (env.CI) return false;
  return platform === 'darwin' || platform === 'win32' || Boolean(env.DISPLAY || env.WAYLAND_DISPLAY);
}

/** @param address to show; that it cannot be shown is no fault, for it has been printed */
export function openBrowser(address: string): void {
  const [command, ...args] =
    process.platform === 'darwin'
      ? ['open', address]
      : process.platform === 'win32'
        ? ['cmd', '/c', 'start', '', address]
        : ['xdg-open', address];
  const child = spawn(command!, args, { stdio: 'ignore', detached: true });
  child.on('error', () => undefined);
  child.unref();
}
