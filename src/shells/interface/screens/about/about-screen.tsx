/** Which program this is, its licence, and whose work it holds. */
import { useEffect, useState } from 'react';
import { translate } from '../../../../wording/translate.ts';
import { Disclosure } from '../../parts/dialog.tsx';
import './about.css';

/** Written by the build from the lock file: see `build/collect-notices.ts`. */
interface Notices {
  readonly version: string;
  readonly licence: string;
  readonly packages: readonly {
    readonly name: string;
    readonly version: string;
    readonly licence: string;
    /** Null where the package, or this system's build, brings none. */
    readonly text: string | null;
  }[];
}

export default function AboutScreen() {
  const [notices, setNotices] = useState<Notices>();
  useEffect(() => {
    let isWanted = true;
    void fetch('./notices.json')
      .then(async (response) => (await response.json()) as Notices)
      .then((read) => isWanted && setNotices(read));
    return () => {
      isWanted = false;
    };
  }, []);
  return (
    <div className="about">
      <h1>{translate('frame.name')}</h1>
      {notices && (
        <>
          <p>{translate('about.version', { version: notices.version })}</p>
          <p>{translate('about.what')}</p>
          <p>{translate('about.alone')}</p>
          <section>
            <h2>{translate('about.licence')}</h2>
            <pre>{notices.licence}</pre>
          </section>
          <section>
            <h2>{translate('about.packages')}</h2>
            <p>{translate('about.packages-what', { count: notices.packages.length })}</p>
            {notices.packages.map(({ name, version, licence, text }) => (
              <Disclosure
                key={`${name} ${version}`}
                summary={
                  <span>
                    {name} {version} <span className="about-licence">{licence}</span>
                  </span>
                }
              >
                <pre>{text ?? translate('about.no-text', { licence })}</pre>
              </Disclosure>
            ))}
          </section>
        </>
      )}
    </div>
  );
}
