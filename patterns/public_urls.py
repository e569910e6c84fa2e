"""What anybody can open: the studio's own pages. Mounted at the root."""

from django.urls import URLPattern, URLResolver, path, re_path

from patterns import public_views

app_name = "public"

urlpatterns: list[URLPattern | URLResolver] = [
    path("", public_views.home, name="home"),
    path("p/<slug:slug>/", public_views.pattern, name="pattern"),
    re_path(r"^p/(?P<slug>[-\w]+)/(?P<paper>a4|letter)\.pdf$", public_views.paper, name="paper"),
    re_path(
        r"^photo/(?P<digest>[0-9a-f]{40})/(?P<width>[0-9]{1,4})\.(?P<suffix>webp|jpg)$",
        public_views.photo,
        name="photo",
    ),
]
