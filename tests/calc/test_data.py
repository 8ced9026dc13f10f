"""The answer as JSON: the keys that other programs rely on."""

from tests.calc.budgets import whole_json


def test_the_keys_other_programs_rely_on() -> None:
    found = whole_json()
    assert {"cg_mm", "off_mm", "nose_ballast_g"} <= set(found["balance"])
    assert {"moment_mNm", "servo_need_mNm", "servo_factor"} <= set(found["surface"])
    assert {"mass_g", "force_N", "buckling_factor", "lost_deg"} <= set(found["linkage"])
    wanted = {"loading_g_dm2", "speed_m_s", "sink_m_s", "time_s", "time_without_gear_s", "time_kept"}
    assert wanted <= set(found["air"])
    lines = whole_json(linkage={"kind": "lines", "length": "300 mm", "tex": "22 tex"})
    assert "strength_factor" in lines["linkage"]
