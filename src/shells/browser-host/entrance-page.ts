/** What a browser sees that has not been let in. */
import { reply } from '../gateway/reply.ts';

const PAGE = `<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Twinplumb</title></head>
<body>
<h1>This browser has not been let in</h1>
<p>Twinplumb is running, and lets in only whoever opens the address that it printed. Each address works once.</p>
<p>Press Enter in the window in which Twinplumb was started, and open the address that it prints; or start Twinplumb again.</p>
</body>
</html>
`;

export function showEntrance(): Response {
  return reply(PAGE, 'text/html; charset=utf-8', { status: 403 });
}
