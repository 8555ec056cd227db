"""Every form that anybody is shown, filled by a hostile hand: refused in words, or taken whole."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.house import hostile
from tests.house.asking import files
from tests.house.pages import pages

PAGES = pages()
EXAMPLES = 6
pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def forms(askers, made_once, django_db_blocker):
    """The forms by the page that they are sent to."""
    with django_db_blocker.unblock():
        import logging; logging.disable()
        import time; t=time.process_time()
        x= hostile.found(askers, PAGES, made_once, all_roles=False)
        print("discovery", time.process_time()-t)
        return x


def test_probe(forms, askers, made_once):
    import time, collections
    known = sorted(set(made_once.values()))
    print(len(forms), sum(len(f.kinds) for f in forms))
    names = {p.name for p in PAGES}
    print("no form leads to", sorted(names - {f.page for f in forms if f.method=="POST"}))
    seen = collections.Counter()
    n = 0
    t0 = time.process_time()
    for form in forms:
        for who in form.roles[:1]:
            t = time.process_time()
            @settings(max_examples=EXAMPLES, derandomize=True, database=None)
            @given(hostile.fillings(form, known))
            def fuzz(pairs):
                nonlocal n
                n += 1
                before = files()
                try:
                    t1 = time.process_time()
                    asked = hostile.press(askers[who], form, pairs)
                    t1 = time.process_time() - t1
                except Exception as e:
                    import traceback
                    tb = traceback.extract_tb(e.__traceback__)
                    own = [f"{f.filename[-40:]}:{f.lineno}" for f in tb if "/relations/" in f.filename][-1:]
                    seen[f"{form.page}: {type(e).__name__} {str(e)[:80]} {own}"] += 1
                    return
                if t1 > .25:
                    seen[f"SLOW {t1:.1f} {form.page} {asked.status} {[(k, v[:10], len(v)) for k,v in pairs if len(v)>500]}"] += 1
                found = list(hostile.faults(form, pairs, asked, {}))
                if asked.status in hostile.REFUSED and files() != before:
                    found.append("files")
                for f in found:
                    seen[f"{form.page} {who}: {f[:150]}"] += 1
                seen[f"status {asked.status}"] += 1
            fuzz()
            t = time.process_time() - t
            print("cost", form.page, round(t, 1), flush=True) if t > .5 else 0
    print(n, time.process_time() - t0)
    for k, v in sorted(seen.items()):
        print(v, k)
