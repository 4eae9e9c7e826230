"""Places are named as a person finds them."""

from torquary_schema.places import name_table


def test_a_list_is_no_table_901() -> None:
    assert [name_table(number) for number in (1, 12, 901, 902)] == ["table 1", "table 12", "list 1", "list 2"]
    assert (name_table(2, "t."), name_table(903, "t.")) == ("t. 2", "list 3")
