"""The people of the demo lab. All of them are invented."""

from dataclasses import dataclass

from builds.demo.crew import Crew
from builds.demo.factories.accounts import PASSWORD, AccountFactory
from labsite.models import Account
from labsite.roles import Role

PEOPLE = {  # sign-in name -> full name, roles; in the order in which they are printed
    "nadia": ("Nadia Ferro", [Role.COORDINATOR]),
    "ben": ("Ben Alcott", [Role.BUILDER]),
    "yuki": ("Yuki Sand", [Role.BUILDER]),
    "pia": ("Pia Holm", [Role.BUILDER]),
    "ingrid": ("Ingrid Vale", [Role.REVIEWER]),
    "samir": ("Samir Lowe", [Role.REVIEWER]),
    "grace": ("Grace Adair", [Role.DIRECTOR]),
    "leo": ("Leo Marsh", [Role.COORDINATOR, Role.BUILDER, Role.REVIEWER]),
    "tomas": ("Tomas Reed", [Role.BUILDER]),
}
GRADUATE = "tomas"


@dataclass(frozen=True)
class People:
    by_name: dict

    def __getattr__(self, name):
        try:
            return self.by_name[name]
        except KeyError as error:
            raise AttributeError(name) from error

    def crew(self, builder="ben", second="yuki", reviewer="ingrid"):
        return Crew(self.nadia, self.by_name[builder], self.by_name[second], self.by_name[reviewer])


def make_people():
    return People({name: AccountFactory(username=name, full_name=full, **flags(roles))
                   for name, (full, roles) in PEOPLE.items()})  # fmt: skip


def flags(roles):
    return {Role(role).field: role in roles for role in Role}


def graduate(people):
    """The account is closed; what was signed with it stays signed."""
    people.by_name[GRADUATE].close("Graduated in spring")


def sign_ins():
    """(roles, full name, sign-in name, password) of the demo's own people who may sign in with its password."""
    for account in sorted(Account.objects.open().filter(username__in=PEOPLE), key=_place):
        if account.check_password(PASSWORD):
            roles = " + ".join(str(role.label) for role in account.roles)
            yield roles, account.full_name, account.username, PASSWORD


def _place(account):
    return list(PEOPLE).index(account.username)
