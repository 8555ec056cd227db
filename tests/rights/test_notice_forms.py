"""The notice says whose the project is only where somebody asks for it."""

import pytest

from relations.rights.notice_forms import NoticeForm
from tests import cast

pytestmark = pytest.mark.django_db


def test_name_of_the_project_is_left_out_unless_it_is_ticked():
    fresh = NoticeForm(user=cast.artist(), wordings=[])
    assert fresh.fields["names_project"].required is False
    assert not fresh.fields["names_project"].initial
