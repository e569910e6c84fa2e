from django.test import Client


def test_a_stranger_is_sent_to_sign_in(stranger_client: Client) -> None:
    response = stranger_client.get("/desk/")
    assert response.status_code == 302
    assert response["Location"] == "/sign-in/?next=/desk/"


def test_everybody_here_can_open_the_desk(assistant_client: Client) -> None:
    assert assistant_client.get("/desk/").status_code == 200
