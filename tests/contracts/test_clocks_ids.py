"""Ids sort in the order they were made; times survive to the microsecond."""

from datetime import UTC, datetime, timedelta

from waywright.clocks import ScaledClock, from_utc_microseconds, new_id, utc_microseconds


def test_ids_are_version_7_and_sort_in_the_order_made() -> None:
    moment = datetime(2026, 3, 1, tzinfo=UTC)
    made = [new_id(moment) for _ in range(2000)] + [new_id(moment - timedelta(hours=1)) for _ in range(10)]
    assert all(item.version == 7 and item.variant == "specified in RFC 4122" for item in made)
    assert made == sorted(made)
    assert len(set(made)) == len(made)


def test_the_millisecond_stands_in_front() -> None:
    moment = datetime(2126, 1, 1, 12, tzinfo=UTC)
    assert new_id(moment).int >> 80 == int(moment.timestamp() * 1000)


def test_microseconds_round_trip() -> None:
    moment = datetime(2026, 11, 25, 7, 12, 39, 123457, tzinfo=UTC)
    assert from_utc_microseconds(utc_microseconds(moment)) == moment


def test_a_scaled_clock_dates_records_with_its_own_pace() -> None:
    clock = ScaledClock(1000.0)
    before_utc, before_s = clock.utc(), clock.monotonic_s()
    while clock.monotonic_s() < before_s + 5:
        pass
    assert clock.utc() - before_utc >= timedelta(seconds=5, microseconds=-2)
