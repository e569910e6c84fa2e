from django.urls import URLPattern, URLResolver

app_name = "yarns"

urlpatterns: list[URLPattern | URLResolver] = []
