from django.urls import URLPattern, URLResolver, path, re_path

from workroom.views import entry, people, studio

app_name = "workroom"

urlpatterns: list[URLPattern | URLResolver] = [
    path("sign-in/", entry.sign_in, name="sign_in"),
    path("sign-out/", entry.sign_out, name="sign_out"),
    path("welcome/<str:token>/", entry.welcome, name="welcome"),
    path("desk/me/", studio.me, name="me"),
    path("desk/me/password/", studio.me_password, name="me_password"),
    path("desk/people/", people.people, name="people"),
    path("desk/people/add/", people.person_add, name="person_add"),
    path("desk/people/<int:pk>/", people.person_roles, name="person_roles"),
    path("desk/people/<int:pk>/link/", people.person_link, name="person_link"),
    path("desk/people/<int:pk>/remove/", people.person_gone, name="person_gone"),
    path("desk/studio/", studio.studio, name="studio"),
    re_path(r"^media/logo/(?P<digest>[0-9a-f]{40})\.webp$", studio.logo, name="logo"),
    re_path(r"^accent/(?P<colour>[0-9a-f]{6})\.css$", studio.accent, name="accent"),
]
