"""Cautions: what can hurt someone, or trip up an honest sale, with who decides and where it comes from."""

from dataclasses import dataclass
from typing import Final, Literal

from salebook.base.words import N_

Topic = Literal["making", "firing", "food", "selling"]


@dataclass(frozen=True, kw_only=True)
class Caution:
    """One caution in plain English; `decides` is whose rule comes first, `source` where the text is from."""

    topic: Topic
    about: str
    text: str
    decides: str
    source: str = "Common practice, no source."


TOPICS: Final[dict[Topic, str]] = {
    "making": N_("Making"),
    "firing": N_("Firing"),
    "food": N_("Ware that touches food"),
    "selling": N_("Selling and collecting for charity"),
}

DEFERS: Final = N_(
    "These are reminders, not advice. The rules of the place, the maker's instructions for "
    "the kiln, the groups' own advisers and licensed people come first, and limits change: "
    "look up the current ones."
)

CAUTIONS: Final = (
    Caution(
        topic="making",
        about=N_("Clay and glaze dust"),
        text=N_(
            "Fine silica dust harms the lungs for good. Clean wet: sponge and mop, no dry sweeping, "
            "no dry sanding; polish feet wet; keep work clothes out of the house. Mix dry materials "
            "and spray only with extraction and a mask for fine dust that fits. Let a kiln's fibre "
            "lining be: its dust is harmful too. Limits for the air at work over 8 hours: 0.1 mg/m³ "
            "in Great Britain and the EU, 0.05 mg/m³ in the USA."
        ),
        decides=N_("Local rules on dust at work"),
        source=(
            "HSE EH40 workplace exposure limits; HSE COSHH essentials, ceramics: silica; "
            "Directive (EU) 2017/2398; OSHA 29 CFR 1910.1053."
        ),
    ),
    Caution(
        topic="making",
        about=N_("Lifting"),
        text=N_(
            "Bags of clay, kiln shelves and lids are heavy. Lift close to the body, without "
            "twisting, and with two people or half a bag where one is not enough. Look closer where "
            "a man lifts more than 25 kg or a woman more than 16 kg at the waist, 10 kg and 7 kg at "
            "the floor or overhead: a guide, not a limit, and no promise that less is safe."
        ),
        decides=N_("Local rules on lifting at work"),
        source="HSE INDG143, manual handling at work.",
    ),
    Caution(
        topic="making",
        about=N_("Glaze materials"),
        text=N_(
            "Treat raw glaze materials as harmful: no eating or drinking near them, gloves, washed hands, "
            "labelled tubs out of children's reach. Keep the safety sheets."
        ),
        decides=N_("The safety data sheet of each material"),
        source="Regulation (EC) No 1907/2006 (REACH), article 31: safety data sheets.",
    ),
    Caution(
        topic="firing",
        about=N_("Hot kiln, hot ware"),
        text=N_(
            "Outside walls burn skin, and ware stays hot for long after the glow has gone. Let the "
            "kiln cool before opening it (many wait for less than about 95 °C inside), wear heat-proof "
            "gloves, look in at a spy hole only through dark glasses made for it, keep children and "
            "animals away, keep what burns at a distance. See for yourself at the end that it has "
            "switched off. Drips of glaze cut like glass."
        ),
        decides=N_("The kiln maker's instructions"),
        source="Common practice, no source (temperatures at which people open differ).",
    ),
    Caution(
        topic="firing",
        about=N_("Fumes"),
        text=N_(
            "Every firing gives off fumes, in electric kilns too: carbon monoxide while what is "
            "organic burns out, sulphur dioxide, fluorides, metals. Vent kiln and room to the "
            "outside, away from air intakes; nobody works or sleeps in the room; use a carbon "
            "monoxide alarm. Limit at work in Great Britain: 20 ppm over 8 hours."
        ),
        decides=N_("Local building and fire rules"),
        source="HSE EH40 workplace exposure limits (carbon monoxide, from memory).",
    ),
    Caution(
        topic="firing",
        about=N_("Wiring"),
        text=N_(
            "Fixed wiring, the circuit's load and its protection are the work of a qualified "
            "electrician only. No extension leads. Switch off at the isolator before touching "
            "elements or ware inside."
        ),
        decides=N_("A qualified electrician; the wiring rules of the place"),
        source="IEC 60364 low-voltage installations and the national rules made from it.",
    ),
    Caution(
        topic="firing",
        about=N_("Gas"),
        text=N_(
            "Gas burners, hoses, flues and bottles are fitted and checked by a qualified gas fitter "
            "only. Flame failure device, air for burning, bottles outside and upright, leak test "
            "before lighting."
        ),
        decides=N_("A qualified gas fitter; the gas rules of the place"),
        source="Gas Safety (Installation and Use) Regulations 1998 (Great Britain).",
    ),
    Caution(
        topic="firing",
        about=N_("Firing at night"),
        text=N_(
            "A night rate saves money, not lives: nobody fires overnight without a tested cut-out "
            "that does not hang on the controller, a smoke alarm that people hear, and someone "
            "awake or within call."
        ),
        decides=N_("The insurer and the fire rules of the place"),
    ),
    Caution(
        topic="food",
        about=N_("Lead and cadmium, EU and Great Britain"),
        text=N_(
            "Ware that food touches must not give off more than: flat ware (25 mm deep or less) 0.8 "
            "mg/dm² lead and 0.07 mg/dm² cadmium; other ware that can be filled 4.0 and 0.3 mg/l; "
            "cooking ware, and storage over 3 litres, 1.5 and 0.1 mg/l. Tested with 4 % acetic "
            "acid, 24 hours at 22 °C, by a laboratory."
        ),
        decides=N_("The food authority of the place; a test laboratory"),
        source="Council Directive 84/500/EEC as amended by 2005/31/EC; ISO 6486-1 (test method).",
    ),
    Caution(
        topic="food",
        about=N_("Lead and cadmium, USA"),
        text=N_(
            "Guide levels in the test solution. Lead: flat ware 3.0 µg/ml, small hollow ware 2.0, "
            "large 1.0, cups, mugs and pitchers 0.5. Cadmium: flat ware 0.5, small hollow ware 0.5, "
            "large (1.1 litres and more) 0.25."
        ),
        decides=N_("FDA; the state's own rules"),
        source="FDA Compliance Policy Guides 545.400 and 545.450 (lead levels in part from memory).",
    ),
    Caution(
        topic="food",
        about=N_("Words on labels"),
        text=N_(
            "Say that ware may touch food, stand a dishwasher or an oven only where it was tested, "
            "by whom and when. Decorative ware that is not for food says so, for good, on the "
            "piece."
        ),
        decides=N_("The food authority of the place"),
        source="Regulation (EC) No 1935/2004; 21 CFR 109.16 (ornamental and decorative ceramicware).",
    ),
    Caution(
        topic="selling",
        about=N_("A group's name"),
        text=N_(
            "Ask each group before its name stands on a label, a poster or a table, and agree in "
            "writing what it gets. Who sells for gain and says that part of the price goes to a "
            "charity may need a written agreement and a statement of the sum for each group."
        ),
        decides=N_("The group; its adviser"),
        source="Charities Act 1992, sections 58 to 60 (England and Wales).",
    ),
    Caution(
        topic="selling",
        about=N_("Price is not a gift"),
        text=N_(
            "What somebody pays for goods, a ticket or a raffle is not a gift for tax. Only what is "
            "given on top may be one, and only under the group's own rules."
        ),
        decides=N_("The group; the tax office"),
        source="HMRC, Charities: detailed guidance notes, chapter 3.",
    ),
    Caution(
        topic="selling",
        about=N_("Street and door"),
        text=N_(
            "Selling or collecting in a street, a public place or from door to door often needs a "
            "permit beforehand, also on private ground that is open to all."
        ),
        decides=N_("The council of the place"),
        source=(
            "Police, Factories etc. (Miscellaneous Provisions) Act 1916, section 5; House to House "
            "Collections Act 1939."
        ),
    ),
    Caution(
        topic="selling",
        about=N_("Raffles"),
        text=N_(
            "Raffles have their own law: who may run one, where tickets are sold, what may be taken "
            "off for prizes and expenses. Ask before printing tickets."
        ),
        decides=N_("The council or gambling authority of the place"),
        source="Gambling Act 2005, Schedule 11, part 1 (Great Britain); Gambling Commission.",
    ),
    Caution(
        topic="selling",
        about=N_("Tax on sales"),
        text=N_(
            "Goods sold for a charity may still bear sales tax or VAT, and what a maker keeps may be "
            "income. salebook reckons none of it."
        ),
        decides=N_("The tax office"),
        source="Value Added Tax Act 1994, Schedule 9, group 12 (United Kingdom: events that are exempt).",
    ),
    Caution(
        topic="selling",
        about=N_("Table and room"),
        text=N_(
            "A table that stands firm, heavy pots low, nothing sharp where children reach. No box or cable "
            "where people walk, every way out free. Ask who is insured if somebody is hurt."
        ),
        decides=N_("Whoever lets the room; the insurer"),
    ),
    Caution(
        topic="selling",
        about=N_("Cakes and tea"),
        text=N_(
            "Keep food clean, covered and as cold or as hot as it must be, and be able to say what is in it: "
            "nuts, milk, gluten and whatever else makes some people ill. Who sells food often may have to "
            "register. No drink in a piece that was not tested for it."
        ),
        decides=N_("The food authority of the place"),
        source=(
            "Food Standards Agency, community and charity food provision; Regulation (EU) No 1169/2011 "
            "(allergens)."
        ),
    ),
    Caution(
        topic="selling",
        about=N_("Cash"),
        text=N_(
            "Two people who are not of one family count the cash together and both sign. Count the float "
            "first, keep the box in sight, bank soon and whole: costs are paid from the bank, not from the "
            "box."
        ),
        decides=N_("The group; its treasurer"),
        source="Fundraising Regulator, Code of Fundraising Practice (from memory).",
    ),
    Caution(
        topic="selling",
        about=N_("Names and addresses"),
        text=N_(
            "Keep names and telephone numbers only where something is still to be handed over, show them to "
            "nobody else, and delete them when it is done."
        ),
        decides=N_("The data protection rules of the place"),
        source="Regulation (EU) 2016/679 and UK GDPR, article 5.",
    ),
)
"""In the order in which they are read; limits change, so each names who decides."""


def cautions_on(*topics: Topic) -> tuple[Caution, ...]:
    """Return the cautions on one topic or several, in reading order."""
    return tuple(caution for caution in CAUTIONS if caution.topic in topics)


def caution_about(about: str) -> Caution:
    """Return the caution with an English heading."""
    return next(caution for caution in CAUTIONS if caution.about == about)
