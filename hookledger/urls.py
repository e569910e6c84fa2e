"""Every address of the house. Who may open which: roles.py."""

from django.urls import include, path

from hookledger import views

handler400 = "hookledger.errors.bad_request"
handler403 = "hookledger.errors.forbidden"
handler404 = "hookledger.errors.not_found"
handler500 = "hookledger.errors.server_error"

urlpatterns = [
    path("", include("patterns.public_urls")),
    path("", include("workroom.urls")),
    path("healthz", views.healthz, name="healthz"),
    path("review/", include("patterns.reviews.urls")),
    path("desk/", views.desk, name="desk"),
    path("desk/yarns/", include("yarns.urls")),
    path("desk/patterns/", include("patterns.urls")),
    path("desk/orders/", include("orders.urls")),
]
