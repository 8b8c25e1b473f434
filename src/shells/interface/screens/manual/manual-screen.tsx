/** The manual, from the pages in `src/manual`: a list of pages, a search over all of them, and the page itself. */
import { type ComponentProps, useEffect, useRef, useState } from 'react';
import Markdown, { type Components, type ExtraProps } from 'react-markdown';
import remarkGfm from 'remark-gfm';
import { translate } from '../../../../wording/translate.ts';
import { addressOf } from '../../frame/screens.ts';
import { addressOfPage, INDEX, type ManualPlace, readManualPlace, resolveLink } from './manual-place.ts';
import { findPage, findPicture, type ManualPage, PAGES } from './pages.ts';
import { searchManual } from './search-manual.ts';
import './manual.css';

export default function ManualScreen() {
  const place = useManualPlace();
  const [question, setQuestion] = useState('');
  const page = findPage(place.page) ?? findPage(INDEX)!;
  const isAsked = question.trim() !== '';
  useEffect(() => setQuestion(''), [place]);
  return (
    <div className="manual">
      <div className="manual-side">
        <input
          type="search"
          className="manual-search"
          aria-label={translate('manual.search')}
          placeholder={translate('manual.search')}
          value={question}
          onChange={({ target }) => setQuestion(target.value)}
        />
        <nav aria-label={translate('manual.pages')}>
          <PageList pages={PAGES.filter(({ page: name }) => !isForDevelopers(name))} shown={page.page} />
          <h2>{translate('manual.for-developers')}</h2>
          <PageList pages={PAGES.filter(({ page: name }) => isForDevelopers(name))} shown={page.page} />
          <a className="manual-about" href={addressOf('about')}>
            {translate('frame.command-show-about')}
          </a>
        </nav>
      </div>
      {isAsked ? <Hits question={question} /> : <Page page={page} place={place} />}
    </div>
  );
}

const isForDevelopers = (page: string) => page.startsWith('developers/');

function PageList({ pages, shown }: { readonly pages: readonly ManualPage[]; readonly shown: string }) {
  return (
    <ul className="manual-pages">
      {pages.map(({ page, title }) => (
        <li key={page}>
          <a href={addressOfPage({ page })} aria-current={page === shown ? 'page' : undefined}>
            {title}
          </a>
        </li>
      ))}
    </ul>
  );
}

function useManualPlace(): ManualPlace {
  const [place, setPlace] = useState(() => readManualPlace(location.hash));
  useEffect(() => {
    const follow = () => setPlace(readManualPlace(location.hash));
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }, []);
  return place;
}

function Hits({ question }: { readonly question: string }) {
  const hits = searchManual(question);
  return (
    <section className="manual-hits" aria-live="polite">
      <h1>{translate('manual.found', { count: hits.length })}</h1>
      <ol>
        {hits.map((hit) => (
          <li key={addressOfPage(hit)}>
            <a href={addressOfPage(hit)}>
              {hit.heading === hit.title
                ? hit.title
                : translate('manual.hit', { title: hit.title, heading: hit.heading })}
            </a>
            <p>{hit.quote.map(({ text, isMatch }, i) => (isMatch ? <mark key={i}>{text}</mark> : text))}</p>
          </li>
        ))}
      </ol>
    </section>
  );
}

function Page({ page, place }: { readonly page: ManualPage; readonly place: ManualPlace }) {
  const article = useRef<HTMLElement>(null);
  useEffect(() => {
    const heading =
      place.anchor === undefined ? null : article.current?.querySelector(`[id="${PREFIX}${place.anchor}"]`);
    if (heading) heading.scrollIntoView();
    else scrollTo(0, 0);
  }, [place]);
  return (
    <article className="manual-page" ref={article}>
      <Markdown remarkPlugins={[remarkGfm]} components={componentsOf(page)} urlTransform={(address) => address}>
        {page.text}
      </Markdown>
    </article>
  );
}

/** What the frame itself names is not to be hidden by a heading. */
const PREFIX = 'manual-';

type HeadingProps = ComponentProps<'h1'> & ExtraProps;

function componentsOf({ page, sections }: ManualPage): Components {
  const idOf = (line: number | undefined) => {
    const anchor = sections.find((section) => section.line === line)?.anchor;
    return anchor === undefined ? undefined : PREFIX + anchor;
  };
  const heading = (Level: 'h1' | 'h2' | 'h3' | 'h4') =>
    function Heading({ node, children }: HeadingProps) {
      return <Level id={idOf(node?.position?.start.line)}>{children}</Level>;
    };
  return {
    h1: heading('h1'),
    h2: heading('h2'),
    h3: heading('h3'),
    h4: heading('h4'),
    a({ href = '', children }) {
      const target = resolveLink(page, href);
      if (target && findPage(target.page)) return <a href={addressOfPage(target)}>{children}</a>;
      // Nothing here reaches a network, or files that a package does not hold: such an address is there to be read.
      return (
        <>
          {children}
          {/^https?:/.test(href) && <span className="manual-address"> ({href})</span>}
        </>
      );
    },
    img: ({ src, alt }) => <img src={findPicture(String(src))} alt={alt} loading="lazy" />,
  };
}
