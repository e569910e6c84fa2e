from django.contrib.auth import views as auth_views
from django.urls import URLPattern, URLResolver, path

app_name = "workroom"

urlpatterns: list[URLPattern | URLResolver] = [
    path(
        "sign-in/",
        auth_views.LoginView.as_view(template_name="workroom/sign_in.html"),
        name="sign_in",
    ),
    path("sign-out/", auth_views.LogoutView.as_view(), name="sign_out"),
]
