"""Files taken away keep their names, whatever letters those have."""

from email.message import Message

from waywright.web.downloads import download


def test_a_name_of_any_letters_comes_out_as_it_went_in() -> None:
    """RFC 6266, read by the standard library's parser of RFC 2231 parameters."""
    for name in ("report.pdf", 'Bett "Süd" №7; 1.pdf', "a\r\nb.pdf"):
        header = download(name, b"", "application/pdf").headers["content-disposition"]
        message = Message()
        message["content-disposition"] = header
        assert message.get_filename() == name
