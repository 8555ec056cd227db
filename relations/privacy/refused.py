"""The way an action says no: with codes, which the page turns into words."""


class Refused(Exception):  # noqa: N818 - an answer, not a mistake
    """An action was asked for something that its rules do not allow.

    `codes` name the reasons, as the rules of the room do; there is always at least one.
    """

    def __init__(self, *codes: str) -> None:
        if not codes:
            raise ValueError("a refusal names its reasons")
        super().__init__(" ".join(codes))
        self.codes = codes
