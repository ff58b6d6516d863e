"""Sentences about phones: pairing, roles, figures."""

TEXT = {
    "phones.support": "support",
    "phones.phones": "Phones",
    "phones.phones_closed": (
        "Only this computer reaches these pages now. Start `waywright serve --lan` to pair phones in the same network, "
        "for example over this computer's own hotspot."
    ),
    "phones.phones_words": (
        "A phone shows the figures at the carriage. Show a code here, open its picture with the phone's camera; "
        "the code "
        "works once and for a short time."
    ),
    "phones.role_label": "what the phone may do",
    "phones.role.look": "look",
    "phones.role.take": "look and take readings",
    "phones.paired": "Paired",
    "phones.paired_phone": "{name}: may {role}; heard {seconds:.0f} s ago",
    "phones.pair_title": "Pair this phone",
    "phones.pair_words": "Type the code that the laptop shows.",
    "phones.pair_code": "code",
    "phones.pair": "pair",
    "phones.pair_wrong": "This code is wrong, used or too old. Let the laptop show a new one.",
    "phones.pair_wait": "Too many wrong codes. Wait {seconds:.0f} s, then let the laptop show a new one.",
    "phones.phone_title": "Figures",
    "phones.phone_waits": "No instruments are connected. The figures appear here as soon as they are.",
    "phones.phone_taken": "taken",
    "phones.again": "Take again at {places} {unit}: drive back and stand still, it is taken by itself.",
}
