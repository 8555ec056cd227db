"""The password hasher of the site, sized for a small machine on which four may sign in at once."""

from django.contrib.auth.hashers import Argon2PasswordHasher


class SiteArgon2(Argon2PasswordHasher):
    """Argon2id with 46 MiB; Django's 100 MiB a sign-in would exhaust a server with 512 MiB.

    The memory is the first row of the OWASP Password Storage Cheat Sheet (46 MiB, 1 pass, 1 lane;
    from memory); a second pass is added because this machine has the time.
    """

    memory_cost = 46 * 1024
    time_cost = 2
    parallelism = 1
