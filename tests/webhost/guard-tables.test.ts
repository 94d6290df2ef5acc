import { describe, expect, it } from 'vitest';
import {
  checkCaller,
  checkHost,
  checkJson,
  checkProgram,
  checkVisitor,
  credentialOf,
  routeOf,
} from '../../electron/webhost/guard.ts';
import type { RequestHead } from '../../electron/webhost/guard.ts';

const authority = 'w-8f3a1c.localhost:4100';
const origin = `http://${authority}`;

const head = (
  method: string,
  target: string,
  ...pairs: readonly (readonly [string, string])[]
): RequestHead => ({
  method,
  target,
  rawHeaders: pairs.flat(),
});

describe('the guard', () => {
  it.each([
    [[['Host', authority]], undefined],
    [[['hOST', authority]], undefined],
    [[], 421],
    [[['Host', '']], 421],
    [[['Host', 'w-8f3a1c.localhost']], 421],
    [[['Host', 'w-8f3a1c.localhost:4101']], 421],
    [[['Host', 'W-8F3A1C.localhost:4100']], 421],
    [[['Host', 'w-8f3a1c.localhost.:4100']], 421],
    [[['Host', `${authority} `]], 421],
    [[['Host', `a@${authority}`]], 421],
    [[['Host', '127.0.0.1:4100']], 421],
    [
      [
        ['Host', authority],
        ['Host', authority],
      ],
      421,
    ],
  ] as const)('judges the Host headers %j as %s', (pairs, status) => {
    expect(checkHost(head('GET', '/', ...pairs), authority)?.status).toBe(status);
  });

  it.each([
    ['GET', '/', { route: 'page' }],
    ['HEAD', '/assets/a.js', { route: 'page' }],
    ['GET', '/anything?x=1', { route: 'page' }],
    ['POST', '/rpc', { route: 'rpc' }],
    ['POST', '/session', { route: 'session' }],
    ['POST', '/alive', { route: 'alive' }],
    ['POST', '/goodbye', { route: 'goodbye' }],
    ['POST', '/handover', { route: 'handover' }],
    ['GET', '/rpc', 405],
    ['GET', '/session?code=1', 405],
    ['POST', '/rpc?x', 404],
    ['POST', '/', 404],
    ['POST', '/constructor', 404],
    ['POST', '/__proto__', 404],
    ['OPTIONS', '/rpc', 403],
    ['PUT', '/rpc', 403],
    ['DELETE', '/', 403],
    ['TRACE', '/', 403],
    ['OPTIONS', '*', 400],
    ['GET', `http://${authority}/`, 400],
    ['GET', '//evil.test/', 400],
    ['GET', '', 400],
  ] as const)('sends %s %s to %j', (method, target, expected) => {
    const verdict = routeOf(head(method, target));
    expect('refusal' in verdict ? verdict.refusal.status : verdict).toEqual(expected);
  });

  it('refuses to switch to another protocol', () => {
    expect(routeOf(head('GET', '/', ['Upgrade', 'websocket']))).toMatchObject({ refusal: { status: 403 } });
  });

  it.each([
    [origin, 'same-origin', undefined],
    [undefined, 'same-origin', 403],
    ['null', 'same-origin', 403],
    ['', 'same-origin', 403],
    [`${origin}/`, 'same-origin', 403],
    [`https://${authority}`, 'same-origin', 403],
    ['http://w-8f3a1c.localhost:4101', 'same-origin', 403],
    ['http://127.0.0.1:4100', 'same-origin', 403],
    [`${origin}.evil.test`, 'same-origin', 403],
    ['http://evil.test', 'same-origin', 403],
    [origin, 'same-site', 403],
    [origin, 'cross-site', 403],
    [origin, 'none', 403],
    [origin, 'Same-Origin', 403],
    [origin, '', 403],
    [origin, undefined, 403],
  ] as const)('judges a call from %s marked %s as %s', (from, site, status) => {
    const pairs = [
      ...(from === undefined ? [] : [['Origin', from] as const]),
      ...(site === undefined ? [] : [['Sec-Fetch-Site', site] as const]),
    ];
    expect(checkCaller(head('POST', '/rpc', ...pairs), origin)?.status).toBe(status);
  });

  it('refuses a call with two origins', () => {
    const twice = head(
      'POST',
      '/rpc',
      ['Origin', origin],
      ['Origin', origin],
      ['Sec-Fetch-Site', 'same-origin'],
    );
    expect(checkCaller(twice, origin)?.status).toBe(403);
  });

  it.each([
    [[], undefined],
    [[['Sec-Fetch-Site', 'none']], undefined],
    [[['Sec-Fetch-Site', 'same-origin']], undefined],
    [
      [
        ['Sec-Fetch-Site', 'cross-site'],
        ['Sec-Fetch-Mode', 'navigate'],
        ['Sec-Fetch-Dest', 'document'],
      ],
      undefined,
    ],
    [
      [
        ['Sec-Fetch-Site', 'cross-site'],
        ['Sec-Fetch-Mode', 'no-cors'],
        ['Sec-Fetch-Dest', 'script'],
      ],
      403,
    ],
    [
      [
        ['Sec-Fetch-Site', 'same-site'],
        ['Sec-Fetch-Mode', 'cors'],
        ['Sec-Fetch-Dest', 'empty'],
      ],
      403,
    ],
    [
      [
        ['Sec-Fetch-Site', 'cross-site'],
        ['Sec-Fetch-Mode', 'navigate'],
        ['Sec-Fetch-Dest', 'iframe'],
      ],
      403,
    ],
  ] as const)('judges a visitor with %j as %s', (pairs, status) => {
    expect(checkVisitor(head('GET', '/', ...pairs))?.status).toBe(status);
  });

  it.each([
    [[['Content-Type', 'application/json']], undefined],
    [[['Content-Type', 'application/json; charset=utf-8']], undefined],
    [
      [
        ['Content-Type', 'application/json'],
        ['Content-Length', '100'],
      ],
      undefined,
    ],
    [
      [
        ['Content-Type', 'application/json'],
        ['Content-Length', '101'],
      ],
      413,
    ],
    [[['Content-Type', 'text/plain']], 415],
    [[['Content-Type', 'text/plain;application/json']], 415],
    [[['Content-Type', 'application/jsonp']], 415],
    [[['Content-Type', 'application/json; charset=utf-7']], 415],
    [[['Content-Type', 'application/x-www-form-urlencoded']], 415],
    [[['Content-Type', 'multipart/form-data; boundary=a']], 415],
    [[], 415],
    [
      [
        ['Content-Type', 'application/json'],
        ['Content-Type', 'text/plain'],
      ],
      415,
    ],
    [
      [
        ['Content-Type', 'application/json'],
        ['Content-Encoding', 'gzip'],
      ],
      415,
    ],
  ] as const)('judges a body announced by %j as %s', (pairs, status) => {
    expect(checkJson(head('POST', '/rpc', ...pairs), 100)?.status).toBe(status);
  });

  it.each(['Origin', 'Referer', 'Cookie', 'Sec-Fetch-Site', 'Sec-Fetch-Mode', 'Sec-Fetch-Dest'])(
    'refuses the hand-over to anything that sends %s',
    (name) => {
      expect(checkProgram(head('POST', '/handover', [name, 'x']))?.status).toBe(403);
      expect(checkProgram(head('POST', '/handover', ['Authorization', 'x']))).toBeUndefined();
    },
  );

  it('reads a key only from one header of the right scheme', () => {
    expect(credentialOf(head('POST', '/rpc', ['Authorization', 'Knifewright abc']), 'Knifewright')).toBe(
      'abc',
    );
    expect(
      credentialOf(head('POST', '/rpc', ['Authorization', 'Bearer abc']), 'Knifewright'),
    ).toBeUndefined();
    expect(credentialOf(head('POST', '/rpc'), 'Knifewright')).toBeUndefined();
    const twice = head(
      'POST',
      '/rpc',
      ['Authorization', 'Knifewright a'],
      ['Authorization', 'Knifewright b'],
    );
    expect(credentialOf(twice, 'Knifewright')).toBeUndefined();
  });
});
