"""What anybody can open: the studio's own pages. Mounted at the root."""

from django.urls import URLPattern, URLResolver, path

from patterns import public_views

app_name = "public"

urlpatterns: list[URLPattern | URLResolver] = [
    path("", public_views.home, name="home"),
]
