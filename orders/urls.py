from django.urls import URLPattern, URLResolver

app_name = "orders"

urlpatterns: list[URLPattern | URLResolver] = []
