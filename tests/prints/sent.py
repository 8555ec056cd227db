"""What is sent to a page of prints as its form sends it, and what it answers."""

from uuid import uuid4


def post(client, url, **said):
    """Send a form with a token of its own."""
    return client.post(url, {"token": str(uuid4()), **said})


def text(response):
    """The page as one line."""
    return " ".join(response.content.decode().split())
