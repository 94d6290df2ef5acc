/** Hangs the policies onto Electron: protocol, permissions, navigation, windows. Thin on purpose. */
import { app, protocol, session, shell } from 'electron';
import type { WebContents } from 'electron';
import { readPageFile } from '../hosting/page-file.ts';
import { bundleFileOf, pageHeaders } from '../hosting/page-policy.ts';
import { externalAddress, mayNavigate, mayRequest, mayUse, windowOpenAnswer } from './policies.ts';

/** Has to run before the application is ready. */
export const declareScheme = (): void => {
  protocol.registerSchemesAsPrivileged([
    { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true } },
  ]);
};

/** Serves the built page at `app://bundle/`, and nothing else. @param root folder of the built page */
export const serveBundle = (root: string): void => {
  protocol.handle('app', (request) => {
    const file = request.method === 'GET' ? bundleFileOf(request.url) : undefined;
    const found = file === undefined ? undefined : readPageFile(root, file);
    if (found === undefined) return new Response('', { status: 404, headers: pageHeaders });
    return new Response(new Uint8Array(found.bytes), {
      headers: { ...pageHeaders, 'Content-Type': found.type },
    });
  });
};

/** Refuses every permission and every request that leaves the bundle. */
export const closeSession = (): void => {
  const page = session.defaultSession;
  page.setPermissionRequestHandler((_contents, permission, answer) => answer(mayUse(permission)));
  page.setPermissionCheckHandler((_contents, permission) => mayUse(permission));
  page.setDevicePermissionHandler((details) => mayUse(details.deviceType));
  page.webRequest.onBeforeRequest((details, answer) => answer({ cancel: !mayRequest(details.url) }));
};

const handOver = (address: string): void => {
  const allowed = externalAddress(address);
  if (allowed !== undefined) void shell.openExternal(allowed);
};

const guardContents = (contents: WebContents): void => {
  contents.on('will-navigate', (event) => {
    if (mayNavigate(event.url)) return;
    event.preventDefault();
    handOver(event.url);
  });
  contents.on('will-frame-navigate', (event) => {
    if (!event.isMainFrame || !mayNavigate(event.url)) event.preventDefault();
  });
  contents.on('will-redirect', (event) => {
    if (!mayNavigate(event.url)) event.preventDefault();
  });
  contents.on('will-attach-webview', (event) => event.preventDefault());
  contents.setWindowOpenHandler(({ url }) => {
    handOver(url);
    return windowOpenAnswer(url);
  });
};

/** Puts the rules on every page that ever comes into being. */
export const guardEveryPage = (): void => {
  app.on('web-contents-created', (_event, contents) => guardContents(contents));
};
