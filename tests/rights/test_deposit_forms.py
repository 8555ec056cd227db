"""In which country the archive is."""

from relations.rights.deposit_forms import DepositForm


def test_no_country_is_anywhere_and_one_that_is_none_is_an_error():
    nowhere, france, wrong = (DepositForm({"countries": said}) for said in ("", "fr", "XX"))
    assert nowhere.is_valid()
    assert nowhere.cleaned_data["countries"] is None
    assert france.is_valid()
    assert france.cleaned_data["countries"] == ["FR"]
    assert not wrong.is_valid()
