"""A photo from the phone's camera or a file."""

from django import forms
from django.utils.translation import gettext_lazy as _

from workroom.media import PhotoError, StoredPhoto, store


class BandPhotoForm(forms.Form):
    """One picture. A phone offers its camera."""

    photo = forms.FileField(
        label=_("Photo of the ball band"),
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
    )

    def clean_photo(self) -> StoredPhoto:
        try:
            return store(self.cleaned_data["photo"])
        except PhotoError as refusal:
            raise forms.ValidationError(str(refusal), code="no-photo") from refusal
