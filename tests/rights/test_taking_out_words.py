"""Every end of an asking and every refusal on its page has its words."""

import ast
import inspect

from relations.rights import taking_out
from relations.rights.taking_out_words import ENDED, REFUSED
from relations.rights.values import BY_ITSELF, TakingEnd
from relations.rights.words import REFUSED as OF_THE_ROOM


def test_every_end_has_its_words_and_refuses_whatever_comes_after():
    assert set(ENDED) == set(TakingEnd)
    assert {f"taking_{end}" for end in TakingEnd} <= set(REFUSED)
    assert set(TakingEnd) > BY_ITSELF


def test_every_code_that_is_refused_has_its_words():
    calls = ast.walk(ast.parse(inspect.getsource(taking_out)))
    codes = {
        one.args[0].value
        for one in calls
        if isinstance(one, ast.Call)
        and getattr(one.func, "id", "") == "Refused"
        and isinstance(one.args[0], ast.Constant)
    }
    assert len(codes) > 5
    assert codes <= {*REFUSED, *OF_THE_ROOM}
