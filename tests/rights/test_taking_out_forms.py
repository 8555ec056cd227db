"""What is typed where the register leaves: password and code of now, a passphrase of its own."""

from uuid import uuid4

import pytest

from relations.privacy import codes, devices
from relations.rights.taking_out_forms import AskForm, ConfirmForm, TakeForm
from tests import cast

pytestmark = pytest.mark.django_db
OWN, WORDS = "the invented tide comes in twice", "four boats and no harbour"


@pytest.fixture
def asking(rf):
    def by(user, password=OWN):
        user.set_password(password)
        user.save()
        request = rf.post("/")
        request.user = user
        return request

    return by


def sent(form, request, **said):
    return form({"token": str(uuid4()), **said}, request=request, path="/x/")


def test_a_reason_is_one_line_that_must_be_given():
    assert "reason" in AskForm({"token": str(uuid4())}, path="/x/").errors
    assert AskForm(path="/x/").helper.form_action == "/x/"


def test_who_gives_no_codes_is_asked_the_password_alone(asking):
    request = asking(cast.keeper())
    form = sent(ConfirmForm, request, password=OWN)
    assert form.is_valid()
    assert "code" not in form.fields
    assert sent(ConfirmForm, request, password="not this one at all").errors["password"]


def test_password_and_code_are_both_asked_and_a_code_fits_once(asking):
    user = cast.keeper()
    paper = devices.new_paper(user)
    user.asks_code = True
    request = asking(user)
    assert sent(ConfirmForm, request, password=OWN).errors["code"]
    assert sent(ConfirmForm, request, password="not this one", code=paper[0]).errors["password"]
    assert sent(ConfirmForm, request, password=OWN, code=paper[0]).is_valid()
    assert sent(ConfirmForm, request, password=OWN, code=paper[0]).errors["code"]
    assert codes.PAPER_CODES > 1


@pytest.mark.parametrize(
    ("said", "field"),
    [
        ({"passphrase": "short enough", "again": "short enough"}, "passphrase"),
        ({"passphrase": OWN, "again": OWN}, "passphrase"),
        ({"passphrase": WORDS, "again": f"{WORDS}."}, "again"),
        ({"passphrase": WORDS}, "again"),
    ],
)
def test_a_passphrase_is_long_their_password_is_none_and_it_is_typed_twice(asking, said, field):
    """Fifteen characters also where the password may be shorter, beside codes."""
    user = cast.artist()
    user.asks_code = True
    form = sent(TakeForm, asking(user), **said)
    assert set(form.errors) == {field}
    assert WORDS not in str(form["passphrase"])


def test_a_passphrase_that_fits(asking):
    assert sent(TakeForm, asking(cast.artist()), passphrase=WORDS, again=WORDS).is_valid()
