import { afterEach, describe, expect, it, vi } from 'vitest';
import { connectHost } from '../../../../src/shells/interface/host/host.ts';

const answerWith = (answer: (address: string, init?: RequestInit) => Promise<Response>) => {
  const fetched = vi.fn(answer);
  vi.stubGlobal('fetch', fetched);
  return fetched;
};

afterEach(() => vi.unstubAllGlobals());

describe('the host behind the page', () => {
  it('is called with JSON at the address of the procedure', async () => {
    const fetched = answerWith(async () => Response.json({ ok: true, value: 7 }));
    await expect(connectHost().call('aspect.set', { aspect: 2.35 })).resolves.toEqual({ ok: true, value: 7 });
    const [address, init] = fetched.mock.calls[0]!;
    expect(address).toBe('/call/aspect.set');
    expect(init).toMatchObject({ method: 'POST', body: '{"aspect":2.35}' });
  });

  it('is given a photograph with its name', async () => {
    const fetched = answerWith(async () => Response.json({ ok: true, value: {} }));
    await connectHost().addPhotograph({ set: 'shots', role: 'left-lens' }, new File(['x'], 'a b.jpg'));
    expect(fetched.mock.calls[0]![0]).toBe('/photographs/shots/left-lens?name=a%20b.jpg');
  });

  it('fails with a remedy when it does not answer, or answers nonsense', async () => {
    answerWith(async () => {
      throw new TypeError('refused');
    });
    const lost = await connectHost().call('workspace.read', {});
    expect(lost).toMatchObject({ ok: false, failure: { code: 'host-unreachable' } });
    expect(!lost.ok && lost.failure.remedy).not.toBe('');
    answerWith(async () => new Response('<html>'));
    await expect(connectHost().call('workspace.read', {})).resolves.toMatchObject({ ok: false });
  });

  it('tells every event, however the lines are cut, and when it is lost', async () => {
    const lines = '{"type":"engine","state":"ready"}\n{"type":"engine","state":"stopped"}\n';
    const bytes = new TextEncoder().encode(lines);
    const body = new ReadableStream<Uint8Array>({
      start(controller) {
        for (let i = 0; i < bytes.length; i += 7) controller.enqueue(bytes.slice(i, i + 7));
        controller.close();
      },
    });
    answerWith(async () => new Response(body));
    const heard: unknown[] = [];
    await new Promise<void>((resolve) => {
      connectHost().listen((event) => heard.push(event), resolve);
    });
    expect(heard).toEqual([
      { type: 'engine', state: 'ready' },
      { type: 'engine', state: 'stopped' },
    ]);
  });
});
