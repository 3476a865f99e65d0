import { afterEach, expect, test, vi } from 'vitest';
import { main } from '../../src/cli/main.ts';

vi.mock('../../src/cli/make.ts', () => ({
  runCheck: () => {
    throw new Error('the wheel came off\nsecond line');
  },
}));
afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
});

const stderrOf = async (): Promise<{ code: number; text: string }> => {
  let text = '';
  vi.spyOn(process.stderr, 'write').mockImplementation((chunk) => {
    text += String(chunk);
    return true;
  });
  return { code: await main(['check', 'any.part.json']), text };
};

test('an internal fault is exit 1 and one line, without a stack', async () => {
  vi.stubEnv('CAVETTO_DEBUG', '');
  expect(await stderrOf()).toEqual({
    code: 1,
    text: 'internal fault: the wheel came off (CAVETTO_DEBUG=1 shows where)\n',
  });
});

test('CAVETTO_DEBUG=1 shows where it came from', async () => {
  vi.stubEnv('CAVETTO_DEBUG', '1');
  const { code, text } = await stderrOf();
  expect(code).toBe(1);
  expect(text).toMatch(/\n\s+at .*fault\.test\.ts/);
});
